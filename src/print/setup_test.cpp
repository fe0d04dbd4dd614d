#include "print/setup.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "base/constants.hpp"

namespace skewback {
namespace {

/// A wedge in plan, wider at the foot than at the top: its two sides lean back by `lean_rad`.
Solid wedge(double lean_rad, bool upside_down) {
  const double in = 0.3 * std::tan(lean_rad);
  const double foot = upside_down ? 0.5 - in : 0.5, top = upside_down ? 0.5 : 0.5 - in;
  return {{{-foot, -0.1, 0},
           {foot, -0.1, 0},
           {foot, 0.1, 0},
           {-foot, 0.1, 0},
           {-top, -0.1, 0.3},
           {top, -0.1, 0.3},
           {top, 0.1, 0.3},
           {-top, 0.1, 0.3}},
          {{0, 3, 2, 1}, {4, 5, 6, 7}, {0, 1, 5, 4}, {1, 2, 6, 5}, {2, 3, 7, 6}, {3, 0, 4, 7}}};
}

// Sides that lean back are carried; the other way up they hang over.
TEST(Setup, SidesCountWhereTheyHangOver) {
  const double lean = 40 * kPi / 180;
  const Fan fan = fan_between({Vec3::Zero(), Vec3::UnitZ()}, {{0, 0, 0.3}, Vec3::UnitZ()});
  ASSERT_GT(mass_properties(wedge(lean, false)).volume, 0);
  EXPECT_NEAR(lean_of_sides(wedge(lean, false), fan, Vec3::UnitZ()), 0, 1e-12);
  EXPECT_NEAR(lean_of_sides(wedge(lean, true), fan, Vec3::UnitZ()), lean, 1e-9);
}

}  // namespace
}  // namespace skewback
