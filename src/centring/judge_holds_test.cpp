// Feet that are held, worked by hand: statics of a beam on two feet.

#include <gtest/gtest.h>

#include <cmath>

#include "centring/judge_parts.hpp"
#include "centring/sample_judged.hpp"

namespace skewback {
namespace {

using sample::Case;
using sample::find;

constexpr double kSheet = 0.0177, kDeep = 0.3;
constexpr double kBlock = 2000 * kGravity * 0.6 * 1 * 0.3;  // N, one of four
constexpr double kOwn = 685 * kGravity * kSheet * kDeep;    // N per m of rib

/// Two ribs on feet at 0.5 and 2.3 m, the first block alone on them, on 0.15 and 0.45 m.
Case tipping() {
  Case on = sample::bare_case({0.5, 2.3});
  on.loads = {on.loads.front()};
  return on;
}
// about the first foot, 0.5 m of the rib outside it and 1.9 m inside
constexpr double kOver = 1.35 * (kBlock / 4 * (0.35 + 0.05) + kOwn * 0.5 * 0.5 / 2);
constexpr double kHolds = 1.35 * kOwn * 1.9 * 1.9 / 2;

TEST(JudgeHolds, WhatHoldUpwardsWouldDo) {
  Case on = tipping();
  on.judge();
  const CentringCheck* tips = find(on.centring, "tipping over an end foot");
  ASSERT_NE(tips, nullptr);
  EXPECT_NEAR(tips->utilisation, kOver / kHolds, 1e-6 * kOver / kHolds);
  char words[40];
  std::snprintf(words, sizeof words, "R1 over its first foot: %.2f kN",
                2 * (kOver - kHolds) / 1.8 / 1e3);
  EXPECT_TRUE(sample::says(on.centring, words)) << words;
  ASSERT_NE(find(on.centring, "rib that balances"), nullptr);
  EXPECT_GT(find(on.centring, "rib that balances")->utilisation, 1);
}

TEST(JudgeHolds, AFootHeldDownPullsAndIsListed) {
  Case on = tipping();
  for (const int far : {1, 3}) on.centring.feet[static_cast<std::size_t>(far)].held_down = true;
  on.brief.centring.foot_hold_up_n = 1000;
  on.brief.centring.foot_hold_factor = 1.6;
  on.judge();
  const double pull = (kOver - kHolds) / 1.8;
  const CentringCheck* pulled = find(on.centring, "foot pulled up");
  ASSERT_NE(pulled, nullptr);
  EXPECT_NEAR(pulled->demand, pull, 1e-5 * pull);
  EXPECT_NEAR(pulled->resistance, 1000 / 1.6, 1e-9);
  EXPECT_NEAR(find(on.centring, "tipping over an end foot")->resistance, kHolds + 1.8 * 1000 / 1.6,
              1e-6 * kHolds);
  EXPECT_NEAR(on.centring.foot_findings[1].hold_up_n, 1.6 * pull, 1e-5 * pull);
  EXPECT_EQ(on.centring.foot_findings[0].hold_up_n, 0);
  EXPECT_NE(find(on.centring, "bending"), nullptr) << "held, it is a beam like others";
  EXPECT_EQ(find(on.centring, "rib that balances"), nullptr);
}

// Three braces across at 0.7 : 0.5 m. Pushed across by H they pull at a foot by H / 3 x 1.4, less
// what presses on it.
TEST(JudgeHolds, BracesPullAtAFootHeldDown) {
  Case bare({}), pushed({});
  for (Case* on : {&bare, &pushed}) {
    on->loads = {on->loads.back()};
    on->brief.centring.working_load_pa = on->brief.centring.horizontal_share = 0;
    on->brief.centring.foot_hold_up_n = 1000;
    for (CentringFoot& foot : on->centring.feet) foot.held_down = true;
  }
  bare.judge();
  EXPECT_EQ(find(bare.centring, "foot pulled up"), nullptr);
  double side = 0;
  for (Vec3& force : pushed.loads[0].force) {
    force.y() = 2 * force.z();
    side += force.y();
  }
  pushed.judge();
  double least = 1e9;
  for (const FootFinding& foot : bare.centring.foot_findings)
    least = std::min(least, foot.design_n);
  const double pull = 1.35 * side / 3 * 0.7 / 0.5 - least;
  ASSERT_GT(pull, 0);
  const CentringCheck* pulled = find(pushed.centring, "foot pulled up");
  ASSERT_NE(pulled, nullptr);
  EXPECT_NEAR(pulled->demand, pull, 1e-5 * pull);
}

TEST(JudgeHolds, HoldsSidewaysAddToFriction) {
  Case on({});
  on.loads = {on.loads.back()};
  on.brief.centring.working_load_pa = 0;
  on.brief.centring.horizontal_share = 0.4;
  on.brief.centring.foot_hold_factor = 1.5;
  const double load = 1.35 * 4 * kBlock, beyond = (0.4 - 0.3 / 2) * load;
  on.judge();
  EXPECT_NEAR(find(on.centring, "feet slide")->resistance, 0.15 * load, 1e-6 * load);
  char words[40];
  std::snprintf(words, sizeof words, "%.2f kN at each of its 6 feet", 1.5 * beyond / 6 / 1e3);
  EXPECT_TRUE(sample::says(on.centring, words)) << words;
  on.centring.remarks.clear();
  on.brief.centring.foot_hold_n = 3000;
  on.centring.feet[0].held = on.centring.feet[4].held = true;
  on.judge();
  EXPECT_NEAR(find(on.centring, "feet slide")->resistance, 0.15 * load + 2 * 3000 / 1.5,
              1e-6 * load);
  EXPECT_NEAR(on.centring.foot_findings[4].hold_n, 1.5 * beyond / 2, 1e-6 * load);
  EXPECT_EQ(on.centring.foot_findings[1].hold_n, 0);
  EXPECT_FALSE(sample::says(on.centring, "would do"));
}

// F at 0.4 m beyond the first of two supports 2 m apart: -0.4 / 2 F and 1.2 F.
TEST(JudgeHolds, ABeamHeldDown) {
  BeamShape shape;
  for (int i = 0; i <= 24; ++i) {
    shape.axis.emplace_back(0.1 * i, 0);
    shape.depth_m.push_back(0.3);
  }
  shape.thickness_m = kSheet;
  shape.stiffness_pa = 7.5e9;
  const std::vector<BeamLoad> loads = {{0, {0, -1000}, 0}};
  Beam loose(shape, {{4, 0, 0}, {24, 0, 0}});
  EXPECT_FALSE(loose.solve(loads).balances);
  Beam held(shape, {{4, 0, 0}, {24, 0, 0, true}});
  const BeamState state = held.solve(loads);
  ASSERT_TRUE(state.balances);
  EXPECT_NEAR(state.reaction[0].y(), 1200, 1e-6);
  EXPECT_NEAR(state.reaction[1].y(), -200, 1e-6);
}

// Weight alone tips it over too: working loads inside the foot are no help then.
TEST(JudgeHolds, PeopleWhoAreNotThereHoldNothing) {
  Case on = tipping();
  on.brief.centring.working_load_pa = 20e3;
  on.judge();
  EXPECT_GT(find(on.centring, "tipping over an end foot")->utilisation, 1);
}

TEST(JudgeHolds, WhereFeetLiftAndItSinksTooFarAFootIsAskedDown) {
  Case on = sample::bare_case({0.5, 1.2, 2.3}, 200);  // so light that its own weight holds it
  on.loads = {on.loads.front()};
  EXPECT_TRUE(judge_and_ask(on.brief, on.assembly, on.loads, on.centring).tips.empty());
  on.brief.centring.deflection_max_m = 1e-9;
  const DesignAsks asks = judge_and_ask(on.brief, on.assembly, on.loads, on.centring);
  EXPECT_TRUE(asks.tips.contains({0, true}));
  EXPECT_FALSE(asks.tips.contains({0, false}));
}

TEST(JudgeHolds, AFootThatLiftsAsksForItsWedgeOrItsJack) {
  for (const char* feet : {"wedges", "jacks"}) {
    Case on = sample::bare_case({0.1, 1.2, 1.8});
    on.loads = {on.loads.front()};
    on.brief.centring.feet = feet;
    on.judge();
    ASSERT_TRUE(sample::says(on.centring, "Feet that would be pulled up lift")) << feet;
    const bool jacks = feet == std::string("jacks");
    EXPECT_EQ(sample::says(on.centring, "Keep their wedges from falling out"), !jacks);
    EXPECT_EQ(sample::says(on.centring, "Lock the nuts of their jacks"), jacks);
    EXPECT_EQ(sample::says(on.centring, "wedges"), !jacks);
  }
}

// What settle_centring asks with: the stretch that fails, and feet that most braces touch first.
TEST(JudgeHolds, AsksSayWhereAndByHowMuch) {
  Case on = tipping();
  on.brief.centring.bending_strength_pa = 1e6;
  on.centring.feet[1].held_down = true;
  on.brief.centring.foot_hold_up_n = 1000;
  const DesignAsks asks = judge_and_ask(on.brief, on.assembly, on.loads, on.centring);
  ASSERT_TRUE(asks.tips.contains({1, true}));
  EXPECT_FALSE(asks.tips.contains({0, true})) << "held";
  EXPECT_NEAR(asks.tips.at({1, true}).over_nm, kOver - kHolds, 1e-6 * kOver);
  EXPECT_NEAR(asks.tips.at({1, true}).arm_m, 1.8, 1e-9);
  ASSERT_TRUE(asks.stretches.contains({0, 0}));
  const StretchAsk& stretch = asks.stretches.at({0, 0});
  EXPECT_EQ(stretch.used, find(on.centring, "stability sideways")->utilisation);
  EXPECT_NEAR(stretch.to_m - stretch.from_m, 2.4, 1e-9);
}

}  // namespace
}  // namespace skewback
