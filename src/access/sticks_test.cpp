#include "access/sticks.hpp"

#include <gtest/gtest.h>

#include "access/parts.hpp"

namespace skewback::access {
namespace {

Brief walk(double width_m) {
  Brief brief;
  brief.walkway.width_m = width_m;
  brief.walkway.weight_pa = 600;
  brief.loads.people_pa = 5e3;
  brief.loads.patch_n = 10e3;
  brief.loads.patch_side_m = 0.1;
  return brief;
}

// EN 1995-1-1, figures from memory, by hand. 80 x 160 on 1.2 m under 13.5 kN on 0.1 m: M = 13.5
// (1.2/4 - 0.1/8) = 3.88125 kNm, W = 341.33 cm3, 11.3708 MPa; C24 carries 0.7 x 24 / 1.3 = 12.9231
// (k_h 1 at 160 mm): 0.87988. Shear: the load ends 160 mm off the support, V = 13.5 (1 - 0.21/1.2)
// = 11.1375 kN, 1.5 x 11.1375 / (0.67 x 80 x 160) = 1.94803 of 2.15385 MPa: 0.90444.
TEST(Sticks, ABearerUnderThePatch) {
  const StickUse use = stick_use(0.08, 0.16, 1.2, {0, 13.5e3, 0.1});
  EXPECT_NEAR(use.utilisation, 0.90444, 1e-5);
  EXPECT_EQ(use.what, "shear");
}

// A board 140 x 60 on 0.5 m under 7 kN/m: M = 0.21875 kNm, W = 84 cm3, 2.60417 MPa; k_h =
// (150/60)^0.2 = 1.20112, 15.5222 MPa: 0.16777. Shear 1.5 x 1.75 / (0.67 x 140 x 60) = 0.466418
// MPa: 0.21655.
TEST(Sticks, ABoardUnderPeople) {
  const StickUse use = stick_use(0.14, 0.06, 0.5, {7e3, 0, 0});
  EXPECT_NEAR(use.utilisation, 0.21655, 1e-5);
  EXPECT_EQ(use.what, "shear");
}

TEST(Sticks, CarryWhatTheBriefAsks) {
  const Sticks timber = size_sticks(walk(1.4));
  EXPECT_LE(timber.board.utilisation, 1);
  EXPECT_LE(timber.bearer.utilisation, 1);
  EXPECT_LE(timber.cap.utilisation, 1);
  EXPECT_LE(timber.sag_m, timber.sag_limit_m);
  // a thinner board over the same gap breaks
  const double gap = (1.4 - kBearerWidth) / (timber.bearers - 1);
  EXPECT_LE(stick_use(0.20, timber.board_m, gap, {0, 13.5e3, 0.1}).utilisation, 1);
  EXPECT_GT(stick_use(0.20, timber.board_m - 0.015, gap, {0, 13.5e3, 0.1}).utilisation, 1);
}

TEST(Sticks, AreLighterWithoutTheConcentratedLoad) {
  Brief brief = walk(1.4);
  brief.loads.patch_n = 0;
  const Sticks light = size_sticks(brief), stout = size_sticks(walk(1.4));
  EXPECT_LT(deck_kg_per_m2(light, 1.4), deck_kg_per_m2(stout, 1.4));
  EXPECT_DOUBLE_EQ(light.board_m, 0.04);
  EXPECT_EQ(light.posts, 2);
}

TEST(Sticks, SayWhenNoneDoes) {
  Brief brief = walk(1.4);
  brief.loads.patch_n = 100e3;
  const Sticks timber = size_sticks(brief);
  EXPECT_GT(timber.bearer.utilisation, 1);
  EXPECT_EQ(timber.bearer.what.substr(0, 5), "shear");
}

}  // namespace
}  // namespace skewback::access
