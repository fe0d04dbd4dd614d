#pragma once
// For tests only: what holds of every block that was cut.

#include <gtest/gtest.h>

#include <set>

#include "cut/cut.hpp"

namespace skewback::sample {

/// Names once, solids closed, something in each, none over the mass allowed; nothing lost or had
/// twice.
inline void expect_sound(const Cut& cut, double mass_max_kg) {
  std::set<std::string> names;
  for (const Block& block : cut.assembly.blocks) {
    EXPECT_TRUE(names.insert(block.id).second) << block.id;
    EXPECT_TRUE(closed(block.solid)) << block.id;
    if (block.fixed) continue;
    EXPECT_GT(block.mass.volume, 1e-3) << block.id;
    EXPECT_LE(concrete_mass_kg(block), mass_max_kg) << block.id;
  }
  EXPECT_LE(cut.report.volume_error_rel, 1e-9);
}

}  // namespace skewback::sample
