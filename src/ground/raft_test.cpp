#include "ground/raft.hpp"

#include <gtest/gtest.h>

#include "ground/bearing.hpp"
#include "ground/raft_plan.hpp"

namespace skewback {
namespace {

/// Springings 2 m wide, 10 m apart; footings from 0.5 m inside to 1 m outside.
Brief two_feet() {
  Brief brief;
  Support west, east;
  west.id = "west";
  west.a = {0, 2};
  west.b = {0, 0};
  east.id = "east";
  east.a = {10, 0};
  east.b = {10, 2};
  brief.plan.supports = {west, east};
  brief.ground.footing_width_m = 1;
  brief.ground.footing_length_m = 0;
  brief.soil.kind = SoilKind::kUndrained;
  brief.soil.undrained_pa = 60e3;
  brief.soil.weight_n_per_m3 = 18e3;
  return brief;
}

/// Of the ground on the bridge: up and inwards, both feet alike; a push along x on the bridge.
TieState pressed(const std::string& id, double up, double thrust, double push = 0) {
  TieState state;
  state.case_id = id;
  state.balanced = true;
  SupportReaction west, east;
  west.force = {thrust - push / 2, 0, up};
  east.force = {-thrust - push / 2, 0, up};
  state.supports = {west, east};
  return state;
}

const std::vector<Vec2> kReach = {{0.5, 0}, {0.5, 0}};

// By hand: 12 x 2 m, 1.35 x 100 kN on each foot. Under even pressure the middle is bent by 135 x 5
// - 135 x 3 = 270 kN m and by the thrust 81 kN half a thickness over it, 12.15: the greatest there
// is. Steel on top: (282.15 / (0.9 x 0.24) + 81 / 2) / 2 m = 673.375 kN/m over 434.783 MPa.
TEST(Raft, IsBentAndPulledInTheMiddle) {
  const TieState dead = pressed("dead", 100e3, 60e3);
  const Raft raft = design_raft(two_feet(), dead, {&dead}, {}, kReach);
  EXPECT_NEAR(raft.area_m2, 24, 1e-9);
  EXPECT_NEAR(raft.thickness_m, 0.30, 1e-9);
  EXPECT_NEAR(raft.pull_n, 81e3, 1e-3);
  EXPECT_NEAR(std::abs(raft.moment_nm), 282.15e3, 1);
  EXPECT_NEAR(raft.section_m, 2, 1e-9);
  EXPECT_NEAR(raft.steel_m2_per_m, 673.375e3 / (500e6 / 1.15), 1e-8);
  // 1.35 x (200 + 24 x 0.3 x 24) kN on 24 m2
  EXPECT_NEAR(raft.pressure_pa, 1.35 * 372.8e3 / 24, 1e-3);
  EXPECT_TRUE(raft.cleared) << raft.reason;
  EXPECT_NEAR(raft.sliding_used.value_or(1), 0, 1e-9) << "the thrusts are each other's";
}

// EN 1997-1 D.3 by hand, DA1-2: V 372.8, c_u 60 / 1.4, s_c 1 + 0.2 x 2 / 12, no cover:
// R/A' = 5.14159 x 42.857 x 1.03333 = 227.70 kPa; p 15.533: 0.06822. DA2: 1.35 x 15.533 over 318.78
// / 1.4: 0.09209.
TEST(Raft, PressesAsOneBase) {
  const TieState dead = pressed("dead", 100e3, 60e3);
  const Raft raft = design_raft(two_feet(), dead, {&dead}, {}, kReach);
  EXPECT_NEAR(raft.bearing_used.value_or(0), 0.09209, 2e-5);
}

// A push of 20 kN on the whole, factor 1.5, against 0.4 V with V at low weight (EN 1997-1 (6.5), no
// factor): 30 / (0.4 x 372.8) = 0.20118.
TEST(Raft, SlidesUnderWhatNoThrustBalances) {
  const TieState dead = pressed("dead", 100e3, 60e3),
                 wind = pressed("wind-east", 100e3, 60e3, 20e3);
  const Raft raft = design_raft(two_feet(), dead, {&dead, &wind},
                                {{"wind-east", {{"wind-east", ActionKind::kOther, 0.3}}}}, kReach);
  EXPECT_NEAR(raft.sliding_used.value_or(0), 0.20118, 1e-5);
}

TEST(Raft, GrowsThickerWithMoment) {
  const TieState dead = pressed("dead", 500e3, 300e3);
  const Raft raft = design_raft(two_feet(), dead, {&dead}, {}, kReach);
  const double d = raft.thickness_m - 0.06, m = std::abs(raft.moment_nm) / raft.section_m;
  EXPECT_GT(raft.thickness_m, 0.30);
  EXPECT_LE(m, 0.167 * 30e6 * d * d);
}

TEST(Raft, OnUnknownSoilIsNotCleared) {
  Brief brief = two_feet();
  brief.soil = {};
  const TieState dead = pressed("dead", 100e3, 60e3);
  const Raft raft = design_raft(brief, dead, {&dead}, {}, kReach);
  EXPECT_FALSE(raft.cleared);
  EXPECT_EQ(raft.reason, "not cleared: soil unknown");
}

// Second moments of a rectangle turned by 30 degrees give its own sides back.
TEST(RaftPlan, FindsTheSidesOfARectangle) {
  const Vec2 u(std::cos(0.5), std::sin(0.5)), v(-u.y(), u.x()), c(3, -2);
  const RaftPlan plan = raft_plan(
      {c - 4 * u - 1.5 * v, c + 4 * u - 1.5 * v, c + 4 * u + 1.5 * v, c - 4 * u + 1.5 * v});
  EXPECT_NEAR(plan.size_m.x(), 3, 1e-9);
  EXPECT_NEAR(plan.size_m.y(), 8, 1e-9);
  EXPECT_NEAR(std::abs(plan.across.dot(v)), 1, 1e-9);
  EXPECT_NEAR((plan.centre - c).norm(), 0, 1e-9);
  const RaftCut cut = cut_plan(plan.outline, u, 0.75);
  EXPECT_NEAR(cut.width_m, 3, 1e-9);
  EXPECT_NEAR(plan_moments(cut.side)(0, 0), 6, 1e-9);
}

}  // namespace
}  // namespace skewback
