#include <gtest/gtest.h>

#include "erect/erect.hpp"

namespace skewback {
namespace {

struct Struck {
  Brief brief;
  Programme programme;
  Centring centring;
  double needed_m() {
    Centring judged = centring;
    add_drop_to_travel(brief, programme, judged);
    EXPECT_NEAR(judged.checks[0].utilisation, judged.checks[0].demand / 0.0032, 1e-12);
    return judged.checks[0].demand;
  }
  Struck() {
    brief.centring.strike_step_m = 1e-3;
    centring.checks.push_back({"travel down", 0.0031, 0.0032, "m", 0.97, "R1-1", "striking", ""});
    Stage clear;
    clear.what = "clear";
    clear.crown_drop_m = 0.268e-3;
    programme.stages = {clear};
    programme.freed = true;
    programme.lowering_m = 0.002;
  }
};

// 3.1 mm of spring-back and settlement, and 0.268 mm that the bridge follows: more than 3.2 mm.
TEST(StruckTravel, TheBridgeFollows) {
  Struck on;
  EXPECT_NEAR(on.needed_m(), 3.368e-3, 1e-9);
}

// One step of 50 mm is 50 mm.
TEST(StruckTravel, StepsAreWhole) {
  Struck on;
  on.programme.lowering_m = 0.05;
  EXPECT_NEAR(on.needed_m(), 0.05, 1e-12);
}

TEST(StruckTravel, WhatStillBearsAsksForAnotherStep) {
  Struck on;
  on.programme.lowering_m = 0.0032;
  on.programme.freed = false;
  EXPECT_NEAR(on.needed_m(), 0.0042, 1e-12);
}

TEST(StruckTravel, NoneIsMadeUp) {
  Struck on;
  on.centring.checks.clear();
  add_drop_to_travel(on.brief, on.programme, on.centring);
  EXPECT_TRUE(on.centring.checks.empty());
}

}  // namespace
}  // namespace skewback
