#include "works/footing_trials.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace skewback {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

FootingTrial trial(int footing, double slipping, double peak_pa, bool found = true) {
  FootingTrial out;
  out.move.block = footing;
  out.state.found = found;
  out.state.peak_pa = peak_pa;
  JointPad quiet, slips;
  slips.slipping_share = slipping;
  out.state.joints = {quiet, slips, quiet};
  return out;
}

TEST(FootingTrials, EachFootingGoesSixWaysUnderEachCase) {
  Assembly assembly;
  for (const char* id : {"west", "arch", "east"}) {
    Block block;
    block.id = id;
    block.fixed = std::string(id) != "arch";
    assembly.blocks.push_back(block);
  }
  for (const char* id : {"dead", "half"}) {
    LoadCase load;
    load.id = id;
    assembly.cases.push_back(load);
  }
  const auto trials = footing_trials(assembly, {1}, 0.02);
  ASSERT_EQ(trials.size(), 12u);
  Vec3 sum = Vec3::Zero();
  for (const FootingTrial& t : trials) {
    EXPECT_EQ(t.load, 1u);
    EXPECT_DOUBLE_EQ(t.move.shift.norm(), 0.02);
    EXPECT_TRUE(t.move.block == 0 || t.move.block == 2);
    sum += t.move.shift;
  }
  EXPECT_DOUBLE_EQ(sum.norm(), 0);
  EXPECT_EQ(trials[0].words, "half, west moved +x");
  EXPECT_EQ(trials[11].words, "half, east moved -z");
}

TEST(FootingTrials, TheMostSlippingOfEachFootingIsLetGo) {
  const std::vector<FootingTrial> trials = {trial(0, 0.02, 5), trial(0, 0.30, 1), trial(0, 0.10, 9),
                                            trial(3, 0.005, 7), trial(3, 0.009, 2)};
  EXPECT_THAT(trials_to_let_go(trials, ThirdView::kWhenNeeded), ElementsAre(1u));
  EXPECT_THAT(trials_to_let_go(trials, ThirdView::kAlways), ElementsAre(1u, 2u, 3u));
}

TEST(FootingTrials, WhatThePadsHaveNoStateForIsLetGo) {
  const std::vector<FootingTrial> trials = {trial(0, 0, 5), trial(0, 0, 0, false),
                                            trial(2, 0, 0, false), trial(2, 0.4, 1)};
  EXPECT_THAT(trials_to_let_go(trials, ThirdView::kWhenNeeded), ElementsAre(1u, 2u, 3u));
  EXPECT_THAT(trials_to_let_go({}, ThirdView::kAlways), IsEmpty());
}

TEST(FootingTrials, StatesThatPressAJointTooHardAreCounted) {
  Assembly assembly;
  for (const char* id : {"west", "v1", "v2", "east"}) assembly.blocks.emplace_back().id = id;
  for (int j = 0; j < 3; ++j) {
    Joint& joint = assembly.joints.emplace_back();
    joint.a = j;
    joint.b = j + 1;
  }
  std::vector<FootingTrial> trials = {trial(0, 0, 0), trial(0, 0, 0), trial(0, 0, 0)};
  const std::vector<double> limit_pa = {6e6, 2e6, 6e6};
  trials[0].state.joints[0].peak_pa = 5.9e6;
  EXPECT_EQ(pressed_too_hard(assembly, trials, limit_pa).first, 0);
  trials[1].state.joints[1].peak_pa = 3e6;  // half as much again
  trials[1].state.joints[2].peak_pa = 6.1e6;
  trials[2].state.joints[2].peak_pa = 7e6;
  const auto [over, words] = pressed_too_hard(assembly, trials, limit_pa);
  EXPECT_EQ(over, 2);
  EXPECT_THAT(words,
              ::testing::AllOf(::testing::StartsWith("2 of 3 states"),
                               ::testing::HasSubstr("3.0 MPa where it takes 2.0, at v1 | v2")));
}

TEST(FootingTrials, ATrialHoldsWithAStateThatItsConcreteTakesAndThatRests) {
  Assembly assembly;
  for (const char* id : {"west", "v1"}) assembly.blocks.emplace_back().id = id;
  assembly.joints.emplace_back();
  assembly.joints[0].a = 0;
  assembly.joints[0].b = 1;
  FootingTrial held = trial(0, 0, 0);
  held.state.peak_joint = 0;
  held.state.peak_pa = 18.6e6;
  EXPECT_EQ(why_not_held(assembly, held, 18.7e6), "");
  EXPECT_EQ(why_not_held(assembly, held, 18.5e6),
            "joint west | v1 is pressed by 18.6 MPa and takes 18.5 by its concrete");
  held.state.found = false;
  held.state.reason = "no balance";
  EXPECT_EQ(why_not_held(assembly, held, 18.7e6), "no balance");
}

}  // namespace
}  // namespace skewback
