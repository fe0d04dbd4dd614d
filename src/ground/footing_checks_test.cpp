#include "ground/footing_checks.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "base/constants.hpp"
#include "ground/footing_size.hpp"
#include "ground/holdfast.hpp"

namespace skewback {
namespace {

/// Two feet 10 m apart, springing lines 2 m long at level 0, facing outwards.
Brief two_feet() {
  Brief brief;
  brief.plan.supports = {{"west", {0, 1}, {0, -1}, 0}, {"east", {10, -1}, {10, 1}, 0}};
  brief.ground.footing_length_m = 0.5;
  brief.ground.footing_width_m = 1.6;
  brief.ground.footing_depth_m = 0.8;
  brief.ground.ties = {{"tie", 0, 1, 2, 1.0, -0.3}};
  brief.soil.kind = SoilKind::kDrained;
  brief.soil.phi_rad = 32 * kPi / 180;
  brief.soil.phi_cv_rad = 30 * kPi / 180;
  brief.soil.weight_n_per_m3 = 18e3;
  brief.soil.cover_m = 0.8;
  brief.material.fck_pa = 35e6;
  return brief;
}

TieState state(const std::string& id, double up, double in, double rod) {
  TieState s;
  s.case_id = id;
  s.supports = {{"west", {0, 0, 0}, {in, 0, up}, Vec3::Zero(), in},
                {"east", {10, 0, 0}, {-in, 0, up}, Vec3::Zero(), in}};
  s.rod_force_n = {{rod, rod}};
  s.balanced = true;
  return s;
}

// By hand, moments about the middle of the underside (0.8 m out, 0.8 m down): V 100 down at the
// springing, 0.8 m inside the middle: 80 kN m inwards; thrust 60 outwards at 0.8 m: 48 outwards;
// tie 60 inwards at 0.5 m: 30 inwards. Weight 1.6 x 3 x 0.8 x 24 = 92.16 kN.
TEST(FootingChecks, ForcesOnTheBaseByHand) {
  const Brief brief = two_feet();
  const TieState dead = state("dead", 100e3, 60e3, 30e3);
  for (int s = 0; s < 2; ++s) {
    const FootingSize size = drawn_footing(brief.plan.supports[s], brief.ground, 0);
    const FootingAction action = action_on(brief.plan.supports, brief.ground.ties, dead, s);
    const BaseLoad load = on_base(brief.plan.supports[s], size, action, {}, 1, 0);
    EXPECT_NEAR(load.vertical_n / 1e3, 192.16, 1e-9);
    EXPECT_NEAR(load.horizontal_n.norm(), 0, 1e-6);
    EXPECT_NEAR(load.eccentricity_m.x(), (-80.0 + 48 - 30) / 192.16, 1e-9);
    EXPECT_NEAR(load.eccentricity_m.y(), 0, 1e-9);
  }
}

// Without ties all of the thrust slides the base, outwards: DA1-2 as worked for EN 1997-1 6.5.3:
// V tan(30) / 1.25.
TEST(FootingChecks, WithoutTiesTheBaseSlides) {
  Brief brief = two_feet();
  brief.ground.ties.clear();
  TieState dead = state("dead", 100e3, 60e3, 0);
  dead.rod_force_n.clear();
  const FootingReport report = check_footing(brief, {}, dead, {&dead}, 1, {0, 0});
  ASSERT_EQ(report.cases.size(), 1u);
  const FootingCase& c = report.cases[0];
  EXPECT_NEAR(c.horizontal_n.x() / c.dead_factor, 60e3, 1e-6);
  EXPECT_EQ(c.approach, "DA1-2");
  EXPECT_NEAR(*c.sliding_used, 60 / (192.16 * std::tan(kPi / 6) / 1.25), 1e-9);
  EXPECT_TRUE(report.cleared) << report.reason;
  ASSERT_TRUE(report.holdfast);
  EXPECT_NEAR(report.holdfast->thrust_n, 60e3, 1e-6);
}

TEST(FootingChecks, SoilUnknownIsNotCleared) {
  Brief brief = two_feet();
  brief.soil = {};
  const TieState dead = state("dead", 100e3, 60e3, 30e3), full = state("full", 180e3, 110e3, 55e3);
  const FootingReport report =
      check_footing(brief, brief.ground.ties, dead, {&dead, &full}, 0, {0.1, 0.2});
  EXPECT_FALSE(report.cleared);
  EXPECT_NE(report.reason.find("soil unknown"), std::string::npos);
  EXPECT_GT(report.pressure_needed_pa, 0);
  ASSERT_TRUE(report.proposed);  // on which no edge lifts
  EXPECT_GT(report.proposed_pressure_pa, 0);
  EXPECT_FALSE(report.settlement_m);
}

// The size proposed passes; the next smaller in either direction, at the other's size, does not.
TEST(FootingChecks, ProposalIsJustEnough) {
  Brief brief = two_feet();
  brief.ground.footing_width_m = 0.3;
  const TieState dead = state("dead", 100e3, 60e3, 30e3), full = state("full", 180e3, 110e3, 55e3);
  const FootingReport report =
      check_footing(brief, brief.ground.ties, dead, {&dead, &full}, 0, {0.1, 0.2});
  ASSERT_TRUE(report.proposed);
  FootingLoads loads;
  loads.dead = action_on(brief.plan.supports, brief.ground.ties, dead, 0);
  const FootingAction whole = action_on(brief.plan.supports, brief.ground.ties, full, 0);
  loads.ids = {"dead", "full"};
  loads.live = {{}, {whole.force - loads.dead.force, whole.moment - loads.dead.moment}};
  EXPECT_TRUE(passes(footing_cases(brief, loads, 0, *report.proposed)));
  FootingSize narrow = *report.proposed;
  narrow.outer_m -= 0.05;
  EXPECT_FALSE(passes(footing_cases(brief, loads, 0, narrow)));
}

// Deadman: K_p of 30 degrees is 3, K_a 1/3 (Rankine); 2 x 60 kN on 3 m: h^2 = 4 x 60 / (2.667 x 18
// x 3). Raked pair 1 in 3, by the triangle of forces.
TEST(Holdfast, ByHand) {
  Soil soil;
  soil.kind = SoilKind::kDrained;
  soil.phi_rad = kPi / 6;
  soil.weight_n_per_m3 = 18e3;
  EXPECT_NEAR(*deadman_height(soil, 60e3, 3), std::sqrt(240 / (8.0 / 3 * 18 * 3)), 1e-9);
  EXPECT_FALSE(deadman_height({}, 60e3, 3));
  const PilePair pair = raked_pair(90e3, 20e3, 1.0 / 3);
  const double lean = std::atan(1.0 / 3);
  EXPECT_NEAR((pair.push_n - pair.pull_n) * std::cos(lean), 90e3, 1e-6);
  EXPECT_NEAR((pair.push_n + pair.pull_n) * std::sin(lean), 20e3, 1e-6);
}

}  // namespace
}  // namespace skewback
