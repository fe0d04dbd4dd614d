#include "works/required_site.hpp"

#include <gtest/gtest.h>

namespace skewback {
namespace {

/// A bridge as packed whose live factor is 2 where 1.35 is asked for.
Dossier packed() {
  Dossier d;
  d.brief.loads.people_pa = 5e3;
  d.brief.required.live_factor = 1.35;
  d.brief.survey.emplace();
  Refit& refit = d.refit.emplace();
  refit.key_goes_in = true;
  refit.packers = 7;
  refit.stages = refit.stages_standing = 12;
  CaseProof dead, half;
  dead.id = "dead";
  half.id = "half";
  dead.verdict = half.verdict = Verdict::kStands;
  half.load_factor = refit.load_factor_after = 2;
  refit.proofs = {dead, half};
  return d;
}

void expect_fails(const Dossier& d, const std::string& note) {
  const auto check = required_as_built(d);
  ASSERT_TRUE(check && check->passes);
  EXPECT_FALSE(*check->passes);
  EXPECT_EQ(check->note, note);
}

TEST(RequiredAsBuilt, PassesWhereAllOfItHolds) {
  const auto check = required_as_built(packed());
  ASSERT_TRUE(check);
  EXPECT_EQ(check->value, 2);
  EXPECT_EQ(check->limit, 1.35);
  EXPECT_EQ(check->passes, true);
  EXPECT_EQ(check->note, "7 packers");
}

TEST(RequiredAsBuilt, IsAskedOnlyOfASurveyAndNotPassedWithoutItsUse) {
  Dossier d = packed();
  d.refit.reset();
  EXPECT_FALSE(required_as_built(d)->passes.has_value());
  d.brief.survey.reset();
  EXPECT_FALSE(required_as_built(d).has_value());
}

TEST(RequiredAsBuilt, TheKeyMustGoIn) {
  Dossier d = packed();
  d.refit->key_goes_in = false;
  expect_fails(d, "the key does not go in");
}

TEST(RequiredAsBuilt, MarksThatDoNotGoTogetherAreNothingToBuildOn) {
  Dossier d = packed();
  d.refit->unfit = {"the marks of south: south left is 17 mm from where the others have it"};
  expect_fails(d,
               "measure again: the marks of south: south left is 17 mm from where the others "
               "have it");
}

TEST(RequiredAsBuilt, EveryCaseMustStandAndBeProved) {
  Dossier d = packed();
  d.refit->proofs[0].verdict = Verdict::kUndecided;
  expect_fails(d, "case dead undecided");
  d.refit->proofs.clear();
  expect_fails(d, "it was not proved");
}

TEST(RequiredAsBuilt, EveryStageMustStand) {
  Dossier d = packed();
  d.refit->stages_standing = 10;
  expect_fails(d, "2 of 12 stages are not shown to stand");
}

// Pads of 8 mm, kn 1e10 Pa/m, G 0.9 MPa: kn t = 80 MPa is 1 / (1 / 80 - 1 / 2000) = 83.33 = 3 G (1
// + 2 S^2) beside the rubber's own: S = 3.864, 1.4 G S = 4.87 MPa.
TEST(RequiredAsBuilt, JointsMustTakeWhatClosingGapsPutOnThem) {
  Dossier d = packed();
  d.brief.joints.pad_shear_modulus_pa = 0.9e6;
  d.brief.material.fck_pa = 35e6;
  d.refit->as_built.blocks.resize(2);
  d.refit->as_built.blocks[0].id = "s1";
  d.refit->as_built.blocks[1].id = "s2";
  Joint joint;
  joint.a = 0;
  joint.b = 1;
  joint.pad = Pad{0.008, 1e10, 1e8};
  d.refit->as_built.joints = {joint};
  d.refit->gaps.peaks_pa = {4.8e6};
  EXPECT_EQ(required_as_built(d)->passes, true);
  d.refit->gaps.peaks_pa = {5.0e6};
  expect_fails(d, "5.0 MPa as gaps close, where 4.9 are allowed, at s1 | s2");
}

TEST(RequiredAsBuilt, TheLiveFactorIsThatAskedForAlsoWhereJointsSlide) {
  Dossier d = packed();
  d.brief.required.live_factor = 2.1;
  EXPECT_EQ(required_as_built(d)->passes, false);
  d = packed();
  d.refit->proofs[1].pads_load_factor = 1.2;
  EXPECT_EQ(required_as_built(d)->value, 1.2);
  EXPECT_EQ(required_as_built(d)->passes, false);
  d.refit->proofs[1].pads_at_cap = true;  // at least 1.2: no reason to lower 2
  EXPECT_EQ(required_as_built(d)->value, 2);
}

TEST(RequiredAsBuilt, WithoutALiveFactorItPassesOnlyWhereNobodyWalks) {
  Dossier d = packed();
  d.refit->proofs.pop_back();
  d.refit->load_factor_after.reset();
  expect_fails(d, "no case with live load was proved");
  d.brief.loads.people_pa = 0;
  EXPECT_EQ(required_as_built(d)->passes, true);
}

TEST(RequiredAsBuilt, TheJointMostBeyondItsLimitIsNamed) {
  Dossier d = packed();
  d.brief.joints.pad_shear_modulus_pa = 0.9e6;
  d.brief.material.fck_pa = 35e6;
  for (const char* id : {"s1", "s2", "s3", "s4"}) {
    d.refit->as_built.blocks.emplace_back();
    d.refit->as_built.blocks.back().id = id;
  }
  for (int j = 0; j < 3; ++j) {
    Joint joint;
    joint.a = j;
    joint.b = j + 1;
    joint.pad = Pad{0.008, 1e10, 1e8};
    d.refit->as_built.joints.push_back(joint);
  }
  d.refit->gaps.peaks_pa = {4.9e6, 5.6e6, 5.0e6};
  expect_fails(d, "5.6 MPa as gaps close, where 4.9 are allowed, at s2 | s3");
}

TEST(RequiredAsBuilt, EveryCaseMustBalanceAsItsGapsClose) {
  Dossier d = packed();
  d.refit->gaps.cases = 3;
  d.refit->gaps.balanced = 2;
  d.refit->gaps.reason = "case half: no state";
  expect_fails(d, "its gaps closing: case half: no state");
}

TEST(RequiredAsBuilt, TheLeastFactorOfAllCasesCounts) {
  Dossier d = packed();
  CaseProof more = d.refit->proofs[1];
  d.refit->proofs[1].load_factor = 1.3;
  more.load_factor = 1.8;
  d.refit->proofs.push_back(more);
  EXPECT_EQ(required_as_built(d)->value, 1.3);
  EXPECT_EQ(required_as_built(d)->passes, false);
}

TEST(RequiredCentring, TheWorstCheckCounts) {
  Dossier d;
  d.brief.centring.wanted = true;
  EXPECT_FALSE(required_centring(d)->passes.has_value()) << "not drawn yet";
  d.programme.emplace();
  d.centring_reason = "no room for feet";
  EXPECT_EQ(required_centring(d)->passes, false);
  d.centring_reason = "";
  d.centring.emplace();
  CentringCheck low, high;
  low.name = "post";
  low.utilisation = 0.4;
  high.name = "bending";
  high.place = "R2";
  high.utilisation = 0.97;
  d.centring->checks = {low, high, low};
  EXPECT_EQ(required_centring(d)->value, 0.97);
  EXPECT_EQ(required_centring(d)->passes, true);
  EXPECT_EQ(required_centring(d)->note, "bending, R2");
  d.programme.emplace().uneven.centring_over = true;
  EXPECT_EQ(required_centring(d)->passes, true) << "said, not failed";
  EXPECT_NE(required_centring(d)->note.find("out of step"), std::string::npos);
  d.programme.reset();
  d.centring->checks[1].stage = "place v3";
  EXPECT_EQ(required_centring(d)->note, "bending, R2, place v3");
  d.centring_reason = "a foot stands in the water";  // however strong it is
  EXPECT_EQ(required_centring(d)->passes, false);
  EXPECT_EQ(required_centring(d)->note, "a foot stands in the water");
  d.centring_reason = "";
  d.centring->checks[1].utilisation = 1.02;
  EXPECT_EQ(required_centring(d)->passes, false);
}

TEST(RequiredLifting, AWayThatIsBarredFailsToo) {
  Dossier d;
  d.brief.lifting.wanted = true;
  EXPECT_FALSE(required_lifting(d)->passes.has_value());
  d.lifts.emplace();
  BlockLift lift;
  lift.id = "v3";
  lift.way_clear = true;
  HandlingCheck check;
  check.name = "slings";
  check.utilisation = 0.8;
  lift.checks = {check};
  d.lifts->lifts = {lift};
  EXPECT_EQ(required_lifting(d)->passes, true);
  EXPECT_EQ(required_lifting(d)->value, 0.8);
  EXPECT_EQ(required_lifting(d)->note, "v3: slings");
  d.lifts->lifts[0].way_clear = false;
  d.lifts->lifts[0].obstacle = "a tree";
  EXPECT_EQ(required_lifting(d)->passes, false);
  EXPECT_EQ(required_lifting(d)->note, "no clear way in for v3: a tree");
  d.lifts->lifts[0].way_clear = true;
  d.lifts->lifts[0].checks[0].utilisation = 1.1;
  EXPECT_EQ(required_lifting(d)->passes, false);
}

// A cradle is needed and none is designed: nothing was found wrong, and nothing is proved.
TEST(RequiredLifting, WhatOnlyACradleHoldsIsNotProved) {
  Dossier d;
  d.brief.lifting.wanted = true;
  d.lifts.emplace();
  d.lifts->lifts.resize(2);
  d.lifts->lifts[0].id = "v1";
  d.lifts->lifts[1].id = "v2";
  for (BlockLift& lift : d.lifts->lifts) {
    lift.checks.emplace_back();
    lift.checks[0].utilisation = 0.5;
  }
  ASSERT_EQ(required_lifting(d)->passes, true);
  d.lifts->lifts[1].cradle = true;
  EXPECT_FALSE(required_lifting(d)->passes.has_value());
  EXPECT_EQ(required_lifting(d)->note,
            "slings do not hold v2, nor do straps: a cradle is needed, and none is designed here");
  d.lifts->lifts[1].strap_n = 1000;
  EXPECT_EQ(required_lifting(d)->passes, true);
  d.lifts->lifts[1].strap_n = 0;
  d.lifts->lifts[0].checks[0].utilisation = 1.2;
  EXPECT_EQ(required_lifting(d)->passes, false);
}

HandlingCheck used(const std::string& name, double utilisation) {
  HandlingCheck check;
  check.name = name;
  check.utilisation = utilisation;
  return check;
}

TEST(RequiredLifting, TheWorstOfAllBlocksCounts) {
  Dossier d;
  d.brief.lifting.wanted = true;
  d.lifts.emplace();
  d.lifts->lifts.resize(3);
  const char* const ids[] = {"v1", "v2", "v3"};
  const double uses[] = {0.5, 1.2, 0.7};
  for (std::size_t i = 0; i < 3; ++i) {
    d.lifts->lifts[i].id = ids[i];
    d.lifts->lifts[i].checks = {used("slings", 0.3), used("crane", uses[i])};
  }
  EXPECT_EQ(required_lifting(d)->value, 1.2);
  EXPECT_EQ(required_lifting(d)->passes, false);
  EXPECT_EQ(required_lifting(d)->note, "v2: crane");
  d.lifts->lifts[1].stands = {
      {.place_m = 12.9, .lorry_m = 6.5, .lorry_kg = 1000, .hoisted_kg = 835},
      {.place_m = 6.4, .lorry_m = 16, .place_kg = 1700, .hoisted_kg = 835}};
  EXPECT_EQ(required_lifting(d)->note,
            "v2: crane, stand 1: place at 12.9 m, beyond the last radius of its chart, lorry at "
            "6.5 m, 835 of 1000 kg; stand 2: place at 6.4 m, 835 of 1700 kg, lorry at 16.0 m, "
            "beyond the last radius of its chart");
}

TEST(RequiredTransport, TheWorstOfAllBlocksCounts) {
  Dossier d;
  EXPECT_FALSE(required_transport(d)) << "not asked for";
  d.brief.transport.wanted = true;
  EXPECT_FALSE(required_transport(d)->passes.has_value()) << "not planned yet";
  d.transport.emplace();
  d.transport->pallets.resize(2);
  BeddedBlock first, second, third;
  first.id = "v1";
  first.checks = {used("tips", 0.5), used("bends", 0.4)};
  second.id = "v2";
  second.checks = {used("tips", 0.6), used("bends", 0.9)};
  third.id = "v3";
  third.checks = {used("tips", 0.2)};
  d.transport->pallets[0].blocks = {first, second};
  d.transport->pallets[1].blocks = {third};
  EXPECT_EQ(required_transport(d)->value, 0.9);
  EXPECT_EQ(required_transport(d)->limit, 1);
  EXPECT_EQ(required_transport(d)->passes, true);
  d.transport->lorries.resize(1);
  d.transport->lorries[0].id = "L1";
  d.transport->lorries[0].mass_kg = 0.95 * d.brief.transport.lorry_load_kg;
  EXPECT_EQ(required_transport(d)->value, 0.9);
  d.transport->lorries[0].mass_kg *= 2;
  EXPECT_EQ(required_transport(d)->passes, false);
  EXPECT_EQ(required_transport(d)->note, "lorry L1: its load");
  d.transport->lorries.clear();
  EXPECT_EQ(required_transport(d)->note, "v2: bends");
  d.transport->not_on_lorry = {"P1", "P2", "P4"};
  EXPECT_EQ(required_transport(d)->passes, false);
  EXPECT_EQ(required_transport(d)->note,
            "P1 does not go on the lorry of the brief, nor do 2 more pallets");
  d.transport->not_on_lorry.clear();
  EXPECT_EQ(required_transport(d)->passes, true);
  d.transport->pallets[0].blocks[1].checks[1].utilisation = 1.01;
  EXPECT_EQ(required_transport(d)->passes, false);
}

}  // namespace
}  // namespace skewback
