#pragma once
// For tests only: what holds for every sheet.

#include <gtest/gtest.h>

#include "deliver/sheet.hpp"

namespace skewback::sample {

/// Something is drawn, and every corner of it lies on the sheet.
inline void expect_on_sheet(const deliver::Sheet& sheet) {
  EXPECT_FALSE(sheet.items.empty()) << sheet.title;
  for (const auto& item : sheet.items) {
    const auto* shape = std::get_if<deliver::Shape>(&item);
    if (shape == nullptr) continue;
    for (const auto& ring : shape->rings) {
      for (const Vec2& p : ring) {
        EXPECT_TRUE(p.x() >= 0 && p.x() <= sheet.width_mm && p.y() >= 0 && p.y() <= sheet.height_mm)
            << sheet.title << ": " << p.transpose();
      }
    }
  }
}

}  // namespace skewback::sample
