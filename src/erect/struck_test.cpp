#include <gtest/gtest.h>

#include "erect/erect.hpp"

namespace skewback {
namespace {

Programme lowered(double drop_m, bool freed) {
  Stage clear;
  clear.what = "clear";
  clear.crown_drop_m = drop_m;
  Programme programme;
  programme.stages = {clear};
  programme.freed = freed;
  programme.lowering_m = 2e-3;
  return programme;
}

TEST(Struck, IsTheDropOnceItIsFreeAndTheStepsUntilThen) {
  Brief brief;
  brief.centring.strike_step_m = 1e-3;
  const Struck free = struck(brief, lowered(0.268e-3, true));
  EXPECT_EQ(free.drop_m, 0.268e-3);
  EXPECT_EQ(free.lowered_m, 2e-3);
  EXPECT_EQ(struck(brief, lowered(-1e-5, true)).drop_m, 0) << "the crown rose";
}

TEST(Struck, WhatStillBearsAsksForAnotherStep) {
  Brief brief;
  brief.centring.strike_step_m = 1e-3;
  EXPECT_NEAR(struck(brief, lowered(0, false)).lowered_m, 3e-3, 1e-15);
}

}  // namespace
}  // namespace skewback
