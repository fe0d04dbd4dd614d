#include "strength/skin.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "strength/concrete.hpp"

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

// Source: a hand estimate and beams built in at both ends. A leaf of 40 mm over webs at 300 mm, 10
// kN, no factors, on a block of 0.4 m: P l / 8 on 0.4 x 0.04^2 / 6 is 3.52 MPa; on 0.1 m of the
// span (3 l^2 - a^2) P / (24 l) at the webs, 3.39 MPa. C35 of plain concrete carries 1.2 MPa, 1.9
// with (3.23). The square on the middle of a leaf that its webs and neighbours let turn asks for
// more than the whole block's width of it.
TEST(Skin, HandEstimateOfTheThinLeaf) {
  const double l = 0.3, long_m = 0.4, leaf = 0.04, P = 10e3, a = 0.1, modulus = leaf * leaf / 6;
  EXPECT_NEAR(P * l / 8 / (long_m * modulus), 3.5e6, 0.05e6);
  Plate plate({.span_m = l, .length_m = long_m});
  plate.load({{-a / 2, 0}, {a / 2, long_m}, P / (a * long_m)});
  const double at_web = -plate.bending({l / 2, long_m / 2}).xx / modulus,
               beam = P * (3 * l * l - a * a) / (24 * l) / (long_m * modulus);
  EXPECT_NEAR(at_web / beam, 1, 0.04);
  const ConcreteDesign c35 = design_strength(35e6, 1.5, 0.8, 0);
  EXPECT_NEAR(c35.tension_pa, 1.2e6, 0.05e6);
  EXPECT_NEAR(c35.tension_pa * flexural_gain(leaf), 1.9e6, 0.05e6);
  const double span = l - 0.045, turns = turning(leaf, span, span, 0.045, 0.34);
  EXPECT_GT(P * skin_units({span, long_m, leaf, turns, turns}, a).patch.inside_pa, 3.5e6);
}

}  // namespace
}  // namespace skewback
