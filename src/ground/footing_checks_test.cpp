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

/// Each state by itself, as people.
std::vector<FootingCombination> each_alone(const std::vector<std::string>& ids) {
  std::vector<FootingCombination> out;
  for (const std::string& id : ids) out.push_back({id, {{id, ActionKind::kPeople, 0.4}}});
  return out;
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

// The pressure told is the greatest of both combinations, not that of the one the soil bears worst:
// 1.35 on the weight (DA1-1, EN 1997-1 Table A.3), though the soil has less reserve with 1.0
// (DA1-2).
TEST(FootingChecks, PressureIsTheGreatestOfBothCombinations) {
  const Brief brief = two_feet();
  const TieState dead = state("dead", 100e3, 60e3, 30e3);
  const FootingReport report =
      check_footing(brief, brief.ground.ties, dead, {&dead}, {}, 1, {0, 0});
  ASSERT_EQ(report.cases.size(), 1u);
  const double inward = (80.0 - 48 + 30) / 192.16;  // m, as ForcesOnTheBaseByHand
  EXPECT_EQ(report.cases[0].approach, "DA1-2");
  EXPECT_NEAR(report.cases[0].pressure_pa / 1e3, 192.16 / ((1.6 - 2 * inward) * 3), 1e-6);
  EXPECT_NEAR(report.pressure_needed_pa / 1e3, 1.35 * 192.16 / ((1.6 - 2 * inward) * 3), 1e-6);
  EXPECT_NEAR(report.plain_ratio,
              plain_footing_ratio(report.pressure_needed_pa, footing_tension(brief)), 1e-12);
}

// Without ties all of the thrust slides the base, outwards: DA1-2 as worked for EN 1997-1 6.5.3:
// V tan(30) / 1.25.
TEST(FootingChecks, WithoutTiesTheBaseSlides) {
  Brief brief = two_feet();
  brief.ground.ties.clear();
  TieState dead = state("dead", 100e3, 60e3, 0);
  dead.rod_force_n.clear();
  const FootingReport report = check_footing(brief, {}, dead, {&dead}, {}, 1, {0, 0});
  ASSERT_EQ(report.cases.size(), 1u);
  const FootingCase& c = report.cases[0];
  EXPECT_NEAR(c.horizontal_n.x() / c.dead_factor, 60e3, 1e-6);
  EXPECT_EQ(c.approach, "DA1-2");
  EXPECT_NEAR(*c.sliding_used, 60 / (192.16 * std::tan(kPi / 6) / 1.25), 1e-9);
  EXPECT_TRUE(report.cleared) << report.reason;
  ASSERT_TRUE(report.holdfast);
  EXPECT_NEAR(report.holdfast->thrust_n, 60e3, 1e-6);
}

// The east foot faces along +x: load that lies out lowers its outer side, load along its line (+y)
// that end; a point of the springing goes down by the settlement more or less.
TEST(FootingChecks, ItGivesWayTowardsTheLoad) {
  Brief brief = two_feet();
  const Support& east = brief.plan.supports[1];
  FootingReport report;
  report.size = {3, 0.2, 1.4, 0.8};
  EXPECT_FALSE(gives_way(east, report));
  report.settlement_m = 0.01;
  report.tilt_rad = Vec2(0.002, 0.001);
  const FootingGives gives = *gives_way(east, report);
  EXPECT_NEAR((gives.about - Vec3(10.6, 0, -0.8)).norm(), 0, 1e-12);
  const auto down = [&](const Vec3& p) {
    return -(gives.shift + gives.turn.cross(p - gives.about)).z();
  };
  EXPECT_NEAR(down({10.6, 0, 0}), 0.01, 1e-15);
  EXPECT_NEAR(down({11.6, 0, 0}), 0.012, 1e-15);
  EXPECT_NEAR(down({10.6, 1, 0}), 0.011, 1e-15);
}

// As ForcesOnTheBaseByHand, without ties: thrust of 300 kN at 0.8 m turns the base out by 240 kN m
// against 80: e = 160 / 192.16 = 0.833 m, off a base of 1.6 m, which tips over and does not settle.
// Of 250 kN it is 120 / 192.16 = 0.624 m, still on it.
TEST(FootingChecks, ABaseThatTheLoadLiesOffHasNoSettlement) {
  Brief brief = two_feet();
  brief.ground.ties.clear();
  brief.soil.stiffness_pa = 25e6;
  const auto under = [&](double thrust) {
    TieState dead = state("dead", 100e3, thrust, 0);
    dead.rod_force_n.clear();
    return check_footing(brief, {}, dead, {&dead}, {}, 1, {0, 0});
  };
  const FootingReport off = under(300e3), on = under(250e3);
  EXPECT_FALSE(off.settlement_m);
  EXPECT_FALSE(off.tilt_rad);
  EXPECT_FALSE(gives_way(brief.plan.supports[1], off));
  EXPECT_TRUE(on.settlement_m);
  EXPECT_TRUE(on.tilt_rad);
}

TEST(FootingChecks, SoilUnknownIsNotCleared) {
  Brief brief = two_feet();
  brief.soil = {};
  const TieState dead = state("dead", 100e3, 60e3, 30e3), full = state("full", 180e3, 110e3, 55e3);
  const FootingReport report = check_footing(brief, brief.ground.ties, dead, {&dead, &full},
                                             each_alone({"full"}), 0, {0.1, 0.2});
  EXPECT_FALSE(report.cleared);
  EXPECT_NE(report.reason.find("soil unknown"), std::string::npos);
  EXPECT_GT(report.pressure_needed_pa, 0);
  ASSERT_TRUE(report.proposed);  // on which no edge lifts
  EXPECT_GT(report.proposed_pressure_pa, 0);
  EXPECT_FALSE(report.settlement_m);
}

/// A footing that wind and people load, no ties; 100 kN of weight at the springing, 40 of people
/// more, wind 20 sideways (out, at the east foot) with 10 of lift.
FootingReport windy(Brief brief, const std::vector<FootingCombination>& combinations) {
  brief.ground.ties.clear();
  const auto at = [](const std::string& id, double up, double thrust) {
    TieState s = state(id, up, thrust, 0);
    s.rod_force_n.clear();
    return s;
  };
  const TieState dead = at("dead", 100e3, 10e3), full = at("full", 140e3, 14e3),
                 wind = at("wind", 90e3, 30e3), warm = at("warmer", 100e3, 16e3);
  return check_footing(brief, {}, dead, {&dead, &full, &wind, &warm}, combinations, 1, {0, 0});
}
const ActionPart kPeoplePart{"full", ActionKind::kPeople, 0.4},
    kWindPart{"wind", ActionKind::kOther, 0.3}, kWarmPart{"warmer", ActionKind::kWarmth, 0.6};

// EN 1990 6.10 with EN 1997-1 sets A1 and A2 (from memory), by hand. Weight of the base 92.16 kN.
// Sliding: DA1-1 and DA2 with light weight, H = 10 + 1.5 x 20, V = 192.16 - 1.5 x 10, no factor on
// soil, 1.1 on resistance in DA2; DA1-2: H = 10 + 1.3 x 20, V = 192.16 - 1.3 x 10, tan phi / 1.25.
TEST(FootingChecks, WindHasTheFactorsOfOtherActions) {
  const FootingReport report = windy(two_feet(), {{"wind", {kWindPart}}});
  ASSERT_GE(report.cases.size(), 2u);
  const FootingCase& c = report.cases[1];
  const double tan = std::tan(kPi / 6);
  const double da2 = 40 / (177.16 * tan / 1.1), da1_2 = 36 / (179.16 * tan / 1.25);
  const bool second = c.approach == "DA1-2";
  EXPECT_NEAR(*c.sliding_used, second ? da1_2 : da2, 1e-9);
  EXPECT_NEAR(c.horizontal_n.x(), second ? 36e3 : 40e3, 1e-6);
  EXPECT_EQ(c.words, second ? "1 weight + 1.3 wind" : "1 weight + 1.5 wind");
}

// On clay the heaviest set bears worst, the lightest slides most: H = 10 + 1.5 x 20 over 0.4 V of
// 192.16 - 1.5 x 10 (EN 1997-1 6.5.3 (12)), by hand. Both are told.
TEST(FootingChecks, TheSetThatSlidesMostIsToldBesideTheOneTheSoilBearsWorst) {
  Brief brief = two_feet();
  brief.soil.kind = SoilKind::kUndrained;
  brief.soil.undrained_pa = 30e3;
  const FootingReport report = windy(brief, {{"wind", {kWindPart}}});
  const FootingCase& bears = report.cases.at(static_cast<std::size_t>(report.worst_bearing));
  const FootingCase& slides = report.cases.at(static_cast<std::size_t>(report.worst_sliding));
  EXPECT_EQ(bears.dead_factor, 1.35);
  EXPECT_EQ(slides.dead_factor, 1);
  EXPECT_NEAR(*slides.sliding_used, 40 / (0.4 * 177.16), 1e-9);
  EXPECT_LT(*bears.sliding_used, *slides.sliding_used);
  EXPECT_NEAR(report.friction_needed, 40 / 177.16, 1e-9);
}

// Two actions: people lead, wind has psi_0 0.3; then the other way round with psi_0 0.4. Whichever
// set is worst, its sums by hand.
TEST(FootingChecks, OneLeadsAndTheOthersHaveTheirPsi) {
  const auto sums = [](const FootingCase& c, double psi_people, double psi_wind) {
    const bool second = c.approach == "DA1-2";
    const double people = psi_people * (second ? 1.15 : 1.35),
                 wind = psi_wind * (second ? 1.3 : 1.5);
    EXPECT_NEAR(c.vertical_n / 1e3, c.dead_factor * 192.16 + people * 40 - wind * 10, 1e-6);
    EXPECT_NEAR(c.horizontal_n.x() / 1e3, c.dead_factor * 10 + people * 4 + wind * 20, 1e-6);
  };
  sums(windy(two_feet(), {{"together", {kPeoplePart, kWindPart}}}).cases.at(1), 1, 0.3);
  sums(windy(two_feet(), {{"together", {kWindPart, kPeoplePart}}}).cases.at(1), 0.4, 1);
}

// Warmth alone: 6 kN of thrust times 1.5 or 1.3.
TEST(FootingChecks, WarmthHasItsOwnFactor) {
  Brief brief = two_feet();
  brief.factors.warmth = 1.4;
  const FootingReport report = windy(brief, {{"warmer", {kWarmPart}}});
  ASSERT_GE(report.cases.size(), 2u);
  const FootingCase& c = report.cases[1];
  const double factor = c.approach == "DA1-2" ? 1.3 : 1.4;
  EXPECT_NEAR(c.horizontal_n.x() / 1e3, c.dead_factor * 10 + factor * 6, 1e-6);
}

// 6.10a: psi_0 on the leader, 1.35 on weight; 6.10b: 0.85 x 1.35. The heaviest is one of the two.
TEST(FootingChecks, AAndBTakeThePlaceOf610) {
  Brief brief = two_feet();
  brief.ground.footing_width_m = 6;
  brief.factors.expression = "6.10a/b";
  const double base = 6 * 3 * 0.8 * 24;
  const FootingReport report = windy(brief, {{"full", {kPeoplePart}}});
  ASSERT_GE(report.cases.size(), 2u);
  const FootingCase& c = report.cases[1];
  const double a = 1.35 * (100 + base) + 1.35 * 0.4 * 40,
               b = 0.85 * 1.35 * (100 + base) + 1.35 * 40, low = 100 + base + 1.35 * 40,
               da1_2 = 100 + base + 1.15 * 40;
  const double expected = c.approach.ends_with("6.10a")   ? a
                          : c.approach.ends_with("6.10b") ? b
                          : c.approach == "DA1-2"         ? da1_2
                                                          : low;
  EXPECT_NEAR(c.vertical_n / 1e3, expected, 1e-6);
  for (const FootingCase& each : report.cases)
    EXPECT_FALSE(each.dead_factor == 1.35 && each.live_factor == 1.35) << "that is 6.10";
}

// A push that friction on the base holds asks for no deadman where ties hold the thrust.
TEST(FootingChecks, FrictionThatHoldsAPushIsEnoughBesideTies) {
  const Brief brief = two_feet();
  const TieState dead = state("dead", 100e3, 60e3, 30e3);
  TieState wind = state("wind", 100e3, 60e3, 30e3);
  for (SupportReaction& s : wind.supports) s.force.y() -= 10e3;
  const FootingReport held = check_footing(brief, brief.ground.ties, dead, {&dead, &wind},
                                           {{"wind", {kWindPart}}}, 0, {0, 0});
  ASSERT_LE(held.cases.at(1).sliding_used.value(), 1);
  EXPECT_FALSE(held.holdfast);
  for (SupportReaction& s : wind.supports) s.force.y() -= 100e3;
  EXPECT_TRUE(check_footing(brief, brief.ground.ties, dead, {&dead, &wind}, {{"wind", {kWindPart}}},
                            0, {0, 0})
                  .holdfast);
}

TEST(FootingChecks, ACombinationWithoutItsStateIsLeftOut) {
  EXPECT_EQ(windy(two_feet(), {{"snow", {{"snow", ActionKind::kOther, 0.8}}}}).cases.size(), 1u);
}

// The size proposed passes; the next smaller in either direction, at the other's size, does not.
TEST(FootingChecks, ProposalIsJustEnough) {
  Brief brief = two_feet();
  brief.ground.footing_width_m = 0.3;
  const TieState dead = state("dead", 100e3, 60e3, 30e3), full = state("full", 180e3, 110e3, 55e3);
  const FootingReport report = check_footing(brief, brief.ground.ties, dead, {&dead, &full},
                                             each_alone({"full"}), 0, {0.1, 0.2});
  ASSERT_TRUE(report.proposed);
  FootingLoads loads;
  loads.dead = action_on(brief.plan.supports, brief.ground.ties, dead, 0);
  const FootingAction whole = action_on(brief.plan.supports, brief.ground.ties, full, 0);
  loads.cases = {{"dead", {}},
                 {"full",
                  {{{"full", ActionKind::kPeople, 0.4},
                    {whole.force - loads.dead.force, whole.moment - loads.dead.moment}}}}};
  EXPECT_TRUE(passes(footing_cases(brief, loads, 0, *report.proposed)));
  FootingSize narrow = *report.proposed;
  narrow.outer_m -= 0.05;
  EXPECT_FALSE(passes(footing_cases(brief, loads, 0, narrow)));
}

// C25/30, plain: f_ctd,pl = 0.8 x 0.7 x 0.30 x 25^(2/3) / 1.5 = 0.9576 MPa (EN 1992-1-1 Table 3.1,
// 12.3.1).
TEST(FootingChecks, WhatIsProposedHoldsTheShoeAndNeedsNoBars) {
  Brief brief = two_feet();
  brief.ground.footing_depth_m = 0.2;
  brief.soil.phi_rad = brief.soil.phi_cv_rad = 26 * kPi / 180;
  const TieState dead = state("dead", 100e3, 60e3, 30e3), full = state("full", 380e3, 210e3, 105e3);
  const FootingReport report = check_footing(brief, brief.ground.ties, dead, {&dead, &full},
                                             each_alone({"full"}), 0, {0.1, 0.2});
  ASSERT_TRUE(report.proposed);
  const FootingSize& size = *report.proposed;
  EXPECT_GE(size.outer_m, 0.2 + 0.05 - 1e-9);
  EXPECT_GE(size.length_m, 2 + 0.1 - 1e-9);
  const double overhang = std::max(size.outer_m - 0.2, (size.length_m - 2) / 2);
  const double least = overhang * std::sqrt(3 * report.proposed_pressure_pa / 0.9576e6) / 0.85;
  EXPECT_GT(size.depth_m, 0.2 + 0.04);
  EXPECT_GE(size.depth_m, least - 1e-4);
  EXPECT_LT(size.depth_m, least + 0.05 + 1e-4);
  EXPECT_GT(report.plain_depth_m, report.size.depth_m);
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
