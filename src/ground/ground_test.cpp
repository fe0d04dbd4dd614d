#include "ground/ground.hpp"

#include <gtest/gtest.h>

#include "assembly/sample_arch.hpp"
#include "assembly/sample_tripod.hpp"
#include "brief/sample_barrel.hpp"
#include "ground/sizing.hpp"

namespace skewback {
namespace {

double weight(const Assembly& assembly) {
  double sum = 0;
  for (const Block& block : assembly.blocks) sum += block.fixed ? 0 : mass_kg(block) * 9.81;
  return sum;
}

LoadCase point_load(const Assembly& assembly, int block, double newtons) {
  LoadCase load;
  load.id = "point";
  load.live = {{block, centre_of_gravity(assembly.blocks[block]), {0, 0, -newtons}}};
  return load;
}

std::string all(const std::vector<std::string>& remarks) {
  std::string text;
  for (const auto& r : remarks) text += r + "\n";
  return text;
}

// Statics by hand: supports carry the weight between them, thrusts are equal and opposite, two rods
// share.
TEST(HoldFeet, ArchOnTwoFootings) {
  const sample::Arch arch;
  const Assembly assembly = sample::arch_assembly(arch);
  const Groundworks works = hold_feet(sample::barrel_brief(arch.radius, arch.width), assembly,
                                      {limit_load(assembly, assembly.cases[0])});
  ASSERT_EQ(works.supports.size(), 2u);
  const Vec3 west = works.supports[0].force, east = works.supports[1].force;
  EXPECT_NEAR(west.z() + east.z(), weight(assembly), 1e-6 * weight(assembly));
  EXPECT_NEAR(west.x(), -east.x(), 1e-6 * weight(assembly));
  EXPECT_GT(west.x(), 0);  // the ground pushes the west springing inwards
  ASSERT_EQ(works.cases.size(), 1u);
  EXPECT_TRUE(works.cases[0].balanced) << works.cases[0].reason;
  ASSERT_EQ(works.ties.size(), 1u);
  const TieForce& tie = works.ties[0];
  EXPECT_NEAR(tie.force_n, west.x(), 1e-5 * weight(assembly));
  EXPECT_NEAR(tie.length_m, 6, 1e-12);
  EXPECT_GE(shank_resistance(tie.diameter_m, 355e6), tie.governing_n);
  EXPECT_GE(tie.governing_n, 1.35 * tie.force_n / 2 * (1 - 1e-9));
  EXPECT_GE(tie.resistance_n, tie.governing_n);
}

/// The arch on good soil and bases of 3 m, which are cleared for what it does at rest.
Brief well_founded(const sample::Arch& arch) {
  Brief brief = sample::barrel_brief(arch.radius, arch.width);
  brief.soil.kind = SoilKind::kDrained;
  brief.soil.phi_rad = 35 * kPi / 180;
  brief.soil.cover_m = brief.ground.footing_depth_m;
  brief.ground.footing_length_m = brief.ground.footing_width_m = 3;
  return brief;
}

// An action without a state clears no footing, whatever the soil.
TEST(HoldFeet, FootingsAreNotClearedForActionsWithoutAState) {
  const sample::Arch arch;
  const Assembly assembly = sample::arch_assembly(arch);
  const Brief brief = well_founded(arch);
  Groundworks works = hold_feet(brief, assembly, {limit_load(assembly, assembly.cases[0])});
  EXPECT_TRUE(works.footings.empty());
  Groundworks lacking = works;
  judge_footings(brief, assembly, {}, works);
  ASSERT_EQ(works.footings.size(), 2u);
  EXPECT_TRUE(works.footings[0].cleared) << works.footings[0].reason;
  judge_footings(brief, assembly, {{}, {}, {"wind-east (blocks slide)"}, "so"}, lacking);
  EXPECT_FALSE(lacking.footings[0].cleared);
  EXPECT_NE(lacking.footings[0].reason.find("wind-east"), std::string::npos);
}

// Snow is asked for with wind, and has no state: what the two do together is not known.
TEST(HoldFeet, ACombinationWithAPartWithoutAStateClearsNoFooting) {
  const sample::Arch arch;
  const Assembly assembly = sample::arch_assembly(arch);
  const Brief brief = well_founded(arch);
  Groundworks works = hold_feet(brief, assembly, {limit_load(assembly, assembly.cases[0])});
  FootingActions actions;
  actions.states = {works.cases.at(0)};
  actions.states[0].case_id = "wind";
  actions.combinations = {
      {"wind-snow", {{"wind", ActionKind::kOther, 0.3}, {"snow", ActionKind::kOther, 0.8}}}};
  judge_footings(brief, assembly, actions, works);
  ASSERT_EQ(works.footings.size(), 2u);
  for (const FootingReport& footing : works.footings) {
    EXPECT_FALSE(footing.cleared);
    EXPECT_EQ(footing.reason, "not tried under snow (no state)");
  }
}

// The brief counts on half the thrust: a base that its soil would hold is not cleared.
TEST(HoldFeet, MoreShearThanTheBriefCountsOnClearsNoFooting) {
  const sample::Arch arch;
  const Assembly assembly = sample::arch_assembly(arch);
  Brief brief = well_founded(arch);
  brief.ground.ties.clear();
  const std::vector<CaseProof> proofs = {limit_load(assembly, assembly.cases[0])};
  brief.ground.ground_shear_n = 1e6;
  Groundworks held = hold_feet(brief, assembly, proofs);
  judge_footings(brief, assembly, {}, held);
  ASSERT_EQ(held.footings.size(), 2u);
  EXPECT_TRUE(held.footings[0].cleared) << held.footings[0].reason;
  brief.ground.ground_shear_n = held.supports.at(0).thrust_n / 2;
  Groundworks weak = hold_feet(brief, assembly, proofs);
  EXPECT_FALSE(weak.cases.at(0).balanced);
  judge_footings(brief, assembly, {}, weak);
  ASSERT_EQ(weak.footings.size(), 2u);
  for (const FootingReport& footing : weak.footings) {
    EXPECT_FALSE(footing.cleared);
    EXPECT_NE(footing.reason.find("ground.ground_shear"), std::string::npos) << footing.reason;
  }
}

// A thrust of 10 kN or more, 10 m over the base, has it 100 kN m out of its middle; half the arch
// and the footing weigh some 280 kN: 0.36 m off, on less than 0.5 m of width.
TEST(HoldFeet, ALoadOffTheBaseIsSaid) {
  const sample::Arch arch;
  const Assembly assembly = sample::arch_assembly(arch);
  Brief brief = well_founded(arch);
  brief.ground.ties.clear();
  brief.ground.footing_depth_m = 10;
  brief.ground.footing_width_m = 0.2;
  brief.ground.footing_length_m = 0.6;
  brief.soil.stiffness_pa = 25e6;
  Groundworks works = hold_feet(brief, assembly, {limit_load(assembly, assembly.cases[0])});
  ASSERT_GT(works.supports.at(0).thrust_n, 10e3);
  judge_footings(brief, assembly, {}, works);
  EXPECT_FALSE(works.footings.at(0).settlement_m);
  EXPECT_NE(all(works.remarks).find("footing west: the dead load lies off its base"),
            std::string::npos);
}

/// The state at rest, with a yaw of 20 N m besides at the first joint.
CaseProof turned(const Assembly& assembly) {
  CaseProof proof = limit_load(assembly, assembly.cases[0]);
  auto& forces = std::get<Forces>(proof.evidence);
  const Vec3 at = assembly.joints[0].frame.origin;
  for (const double side : {-1.0, 1.0})
    forces.contacts.push_back({0, at + Vec3(0, side, 0), {side * 10, 0, 0}});
  return proof;
}

// Without rods there is nothing the ground could not take of the pads' own state but a yaw of
// 20 N m, under 0.5 % of some 50 kN: that state stays.
TEST(HoldFeet, WithoutTiesTheStateOfTheProofStays) {
  const sample::Arch arch;
  const Assembly assembly = sample::arch_assembly(arch);
  const CaseProof proof = turned(assembly);
  Brief brief = sample::barrel_brief(arch.radius, arch.width);
  brief.ground.ties.clear();
  brief.ground.ground_shear_n = 1e6;
  const Groundworks works = hold_feet(brief, assembly, {proof});
  ASSERT_TRUE(works.cases.at(0).balanced) << works.cases[0].reason;
  EXPECT_EQ(all(works.remarks).find("feet free in plan"), std::string::npos);
  double yaw = 0;
  for (const SupportReaction& s : works.cases[0].supports) yaw += s.moment.z();
  EXPECT_NEAR(std::abs(yaw), 20, 1e-8 * weight(assembly));
}

// The evidence of a live case is at its limit load; reactions are wanted at once the load.
TEST(HoldFeet, LiveReactionsAreAtFactorOne) {
  const sample::Arch arch{.thickness = 0.6};
  Assembly assembly = sample::arch_assembly(arch);
  assembly.cases.push_back(point_load(assembly, 2, 2000));
  const std::vector<CaseProof> proofs = limit_loads(assembly);
  const auto* limit = std::get_if<Forces>(&proofs[1].evidence);
  ASSERT_NE(limit, nullptr);
  const Groundworks works =
      hold_feet(sample::barrel_brief(arch.radius, arch.width), assembly, proofs);
  ASSERT_EQ(works.cases.size(), 2u) << all(works.remarks);
  double up = 0;
  for (const SupportReaction& s : works.cases[1].supports) up += s.force.z();
  EXPECT_NEAR(up, weight(assembly) + 2000, 1e-6 * weight(assembly));
}

/// A proof whose forces also push the two feet apart sideways by `newtons`: still in equilibrium
/// for the plan of the footings' sum, but nothing parallel rods can hold.
CaseProof pushed_sideways(const Assembly& assembly, CaseProof proof, double newtons) {
  auto& forces = std::get<Forces>(proof.evidence);
  const int last = static_cast<int>(assembly.joints.size()) - 1;
  forces.contacts.push_back({0, assembly.joints[0].frame.origin, {0, newtons, 0}});
  forces.contacts.push_back({last, assembly.joints[last].frame.origin, {0, newtons, 0}});
  return proof;
}

TEST(HoldFeet, FindsAStateThatBridgeAndRodsCarryTogether) {
  const sample::Arch arch;
  const Assembly assembly = sample::arch_assembly(arch);
  const CaseProof odd = pushed_sideways(assembly, limit_load(assembly, assembly.cases[0]), 3000);
  const Groundworks works =
      hold_feet(sample::barrel_brief(arch.radius, arch.width), assembly, {odd});
  ASSERT_EQ(works.cases.size(), 1u);
  EXPECT_TRUE(works.cases[0].balanced) << works.cases[0].reason;
  EXPECT_NEAR(works.supports[0].force.y(), 0, 1e-6 * weight(assembly));
  EXPECT_NEAR(works.supports[0].force.z() + works.supports[1].force.z(), weight(assembly),
              1e-6 * weight(assembly));
  EXPECT_NE(all(works.remarks).find("feet free in plan"), std::string::npos);
}

// A yaw of a few N m is left to friction under the feet; the state of the proof stays.
TEST(HoldFeet, TriflesAreLeftToTheGround) {
  const sample::Arch arch;
  const Assembly assembly = sample::arch_assembly(arch);
  const CaseProof proof = turned(assembly);
  const Groundworks works =
      hold_feet(sample::barrel_brief(arch.radius, arch.width), assembly, {proof});
  ASSERT_TRUE(works.cases.at(0).balanced) << works.cases[0].reason;
  EXPECT_EQ(all(works.remarks).find("feet free in plan"), std::string::npos);
  EXPECT_NE(all(works.remarks).find("friction under the footings"), std::string::npos);
  double yaw = 0;
  for (const Vec3& shear : works.cases[0].ground_shear_n) yaw += shear.z();
  EXPECT_NEAR(std::abs(yaw), 20, 1e-8 * weight(assembly));
}

// Three legs. The thrusts are those of the state found; ties from them by hand, joint by joint: at
// foot a the ties lie at +-30 degrees to the x axis and pull inwards.
TEST(HoldFeet, TripodOnARingOfTies) {
  const sample::Tripod tripod;
  const Assembly assembly = sample::tripod_assembly(tripod);
  const Brief brief = sample::tripod_brief(tripod.core + tripod.radius, tripod.width);
  const Groundworks works = hold_feet(brief, assembly, {limit_load(assembly, assembly.cases[0])});
  ASSERT_EQ(works.cases.size(), 1u);
  ASSERT_TRUE(works.cases[0].balanced) << works.cases[0].reason;
  double up = 0;
  for (const SupportReaction& s : works.supports) up += s.force.z();
  EXPECT_NEAR(up, weight(assembly), 1e-6 * weight(assembly));
  const Vec3 force = works.supports[0].force;
  const double sum = -force.x() / std::cos(kPi / 6), difference = force.y() / std::sin(kPi / 6);
  EXPECT_NEAR(works.ties[0].force_n, (sum + difference) / 2, 1e-5 * sum);
  EXPECT_NEAR(works.ties[2].force_n, (sum - difference) / 2, 1e-5 * sum);
  for (const TieForce& tie : works.ties) {
    EXPECT_NEAR(tie.length_m, 3.5 * std::sqrt(3), 1e-9);
    for (const double f : tie.rod_force_n) EXPECT_GE(f, 0);
  }
}

TEST(HoldFeet, WithoutTiesNothingHoldsTheThrust) {
  const sample::Arch arch;
  const Assembly assembly = sample::arch_assembly(arch);
  Brief brief = sample::barrel_brief(arch.radius, arch.width);
  brief.ground.ties.clear();
  const std::vector<CaseProof> proofs = {limit_load(assembly, assembly.cases[0])};
  const Groundworks loose = hold_feet(brief, assembly, proofs);
  EXPECT_FALSE(loose.cases.at(0).balanced);
  EXPECT_NE(loose.cases[0].reason.find("kN"), std::string::npos) << loose.cases[0].reason;
  brief.ground.ground_shear_n = 1e6;
  const Groundworks held = hold_feet(brief, assembly, proofs);
  EXPECT_TRUE(held.cases.at(0).balanced) << held.cases[0].reason;
}

TEST(HoldFeet, CaseThatFallsHasNoReactions) {
  const sample::Arch arch{.thickness = 0.2};
  const Assembly assembly = sample::arch_assembly(arch);
  const Groundworks works = hold_feet(sample::barrel_brief(arch.radius, arch.width), assembly,
                                      {limit_load(assembly, assembly.cases[0])});
  EXPECT_TRUE(works.cases.empty());
  EXPECT_NE(all(works.remarks).find("no state of equilibrium"), std::string::npos);
}

}  // namespace
}  // namespace skewback
