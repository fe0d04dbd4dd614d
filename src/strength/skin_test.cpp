#include "strength/skin.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace skewback {
namespace {

// Source: Westergaard 1926 (from memory): b = 0.325 h for a load on a point, b = c from 1.724 h on.
TEST(Skin, EqualSide) {
  const double h = 0.05, root = std::sqrt(M_PI);
  EXPECT_NEAR(equal_side_m(0, h), root * 0.325 * h, 1e-12);
  EXPECT_NEAR(equal_side_m(1.7239 * h * root, h) / (1.7239 * h * root), 1, 1e-3);
  EXPECT_DOUBLE_EQ(equal_side_m(0.5, h), 0.5);
  EXPECT_LT(equal_side_m(0.1, h), 0.1);
}

// The stiffest that a skin is built into is its own root: 1 / 0.43 of span / leaf.
TEST(Skin, Turning) {
  EXPECT_NEAR(turning(0.05, 0.25, 0, 9, 0.3), 5 / 0.43, 0.01);
  EXPECT_LT(turning(0.05, 0.25, 0, 0.05, 0.3), turning(0.05, 0.25, 0.25, 0.05, 0.3));
}

// Source: closed form, a long skin under even load is a row of beams with turning ends: in the
// middle q l^2 / 24 (k + 6) / (k + 2), at the webs q l^2 / 12 k / (k + 2). Poisson's ratio stiffens
// the inside and leaves the free edges; they lie within its share of each other.
TEST(Skin, EvenLoadIsNearABeam) {
  const double l = 0.25, t = 0.05, k = 3, q = 6 / (t * t);
  const SkinUnits units = skin_units({l, 1.0, t, k, k}, 0.1);
  const double beam = q * l * l / 24 * (k + 6) / (k + 2);
  EXPECT_NEAR(units.even.across_pa / beam, 1, 0.05);
  EXPECT_GT(units.patch.across_pa, units.patch.inside_pa);
  EXPECT_TRUE(units.patch.at_bed);
}

}  // namespace
}  // namespace skewback
