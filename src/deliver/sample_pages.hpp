#pragma once
// For tests only: pages of a report are a PDF, and the same bytes every time.

#include <gtest/gtest.h>

#include <functional>

#include "deliver/pages.hpp"

namespace skewback::deliver {

inline void expect_same_pages(const std::function<void(Pages&)>& add) {
  const auto pdf = [&] {
    Pages pages("a bridge", 1);
    add(pages);
    return pages.finish();
  };
  const std::string first = pdf();
  EXPECT_EQ(first.substr(0, 5), "%PDF-");
  EXPECT_EQ(first, pdf());
}

}  // namespace skewback::deliver
