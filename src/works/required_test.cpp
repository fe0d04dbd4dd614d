#include <gtest/gtest.h>

#include <algorithm>

#include "works/required_site.hpp"
#include "works/works.hpp"

namespace skewback {
namespace {

/// A plain pattern that stands at 4, one at the cap, and a combination; nothing else was run.
Dossier proven() {
  Dossier d;
  d.brief.loads.people_pa = 5e3;
  d.cut.emplace();
  const auto add = [&](const std::string& id, CaseKind kind, std::optional<double> factor,
                       bool at_cap) {
    CaseProof proof;
    proof.id = id;
    proof.verdict = Verdict::kStands;
    proof.load_factor = factor;
    proof.at_cap = at_cap;
    d.proofs.push_back(proof);
    d.notes.push_back({id, kind, "", 1, 1});
    LoadCase load;
    load.id = id;
    d.cut->assembly.cases.push_back(load);
  };
  add("dead", CaseKind::kPattern, std::nullopt, false);
  add("full", CaseKind::kPattern, 20, true);
  add("half", CaseKind::kPattern, 4, false);
  add("wind-east", CaseKind::kCombination, 1.1, false);
  return d;
}

const RequiredCheck* find(const std::vector<RequiredCheck>& checks, const std::string& name) {
  const auto it = std::ranges::find(checks, name, &RequiredCheck::name);
  return it == checks.end() ? nullptr : &*it;
}

TEST(Required, TheLiveFactorIsThatOfThePatternsAlone) {
  const auto checks = required_checks(proven());
  const RequiredCheck* live = find(checks, "live_factor");
  ASSERT_NE(live, nullptr);
  EXPECT_DOUBLE_EQ(live->value.value(), 4);  // not the combination's 1.1, whose load is factored
  EXPECT_TRUE(live->passes.value());
  EXPECT_EQ(live->note, "least in case half");
}

TEST(Required, WhereJointsSlideTheLowerFigureCounts) {
  Dossier d = proven();
  d.proofs[2].pads_load_factor = 1.2;
  const auto checks = required_checks(d);
  EXPECT_DOUBLE_EQ(find(checks, "live_factor")->value.value(), 1.2);
  EXPECT_FALSE(find(checks, "live_factor")->passes.value());
  d.proofs[2].pads_load_factor = 3;
  d.proofs[2].pads_at_cap = true;  // at least 3: no reason to lower 4
  EXPECT_DOUBLE_EQ(find(required_checks(d), "live_factor")->value.value(), 4);
}

TEST(Required, WithoutPeopleThereIsNoLiveFactor) {
  Dossier d = proven();
  d.brief.loads.people_pa = 0;
  for (const int i : {2, 1}) {
    d.proofs.erase(d.proofs.begin() + i);
    d.notes.erase(d.notes.begin() + i);
  }
  EXPECT_EQ(find(required_checks(d), "live_factor"), nullptr);
  d.brief.loads.people_pa = 5e3;  // then it is missing, and not passed
  EXPECT_FALSE(find(required_checks(d), "live_factor")->passes.value());
}

TEST(Required, EveryCombinationMustStand) {
  Dossier d = proven();
  EXPECT_TRUE(find(required_checks(d), "combinations")->passes.value());
  d.proofs[3].verdict = Verdict::kUndecided;
  const auto checks = required_checks(d);
  EXPECT_FALSE(find(checks, "combinations")->passes.value());
  EXPECT_DOUBLE_EQ(find(checks, "combinations")->value.value(), 0);
  EXPECT_NE(find(checks, "combinations")->note.find("wind-east"), std::string::npos);
}

TEST(Required, ACrackedBlockFails) {
  Dossier d = proven();
  EXPECT_FALSE(find(required_checks(d), "block_strength")->passes.has_value());
  Block block;
  block.id = "b7";
  d.cut->assembly.blocks.push_back(block);
  d.strength.emplace();
  d.strength->findings = {{0, "shear", "full", 0.9, 1, "Pa", 0.9, "", ""},
                          {0, "bursting", "full", 1.1, 1, "Pa", 1.1, "", ""}};
  d.strength->worst = 1;
  const auto checks = required_checks(d);
  EXPECT_FALSE(find(checks, "block_strength")->passes.value());
  EXPECT_EQ(find(checks, "block_strength")->note, "bursting of b7, case full");
}

TEST(Required, AStageHasToStandWithPeopleAndWindToo) {
  Dossier d = proven();
  d.programme.emplace();
  Stage stage;
  stage.step = 1;
  stage.what = "place";
  stage.proof.verdict = Verdict::kStands;
  d.programme->stages = {stage, stage};
  EXPECT_TRUE(find(required_checks(d), "stages_standing")->passes.value());
  WorkingLoads working;
  working.verdict = Verdict::kUndecided;
  working.governing = "1.5 people on the half towards west";
  d.programme->stages[1].working = working;
  const auto checks = required_checks(d);
  const RequiredCheck* stages = find(checks, "stages_standing");
  EXPECT_FALSE(stages->passes.value());
  EXPECT_DOUBLE_EQ(stages->value.value(), 0.5);
  EXPECT_NE(stages->note.find("towards west"), std::string::npos) << stages->note;
  d.programme->stages[1].working->verdict = Verdict::kStands;
  EXPECT_TRUE(find(required_checks(d), "stages_standing")->passes.value());
}

TEST(Required, AFootThatHangsUpHasToBeStoodToo) {
  Dossier d = proven();
  d.programme.emplace();
  d.programme->stages.resize(2);
  for (Stage& stage : d.programme->stages) stage.proof.verdict = Verdict::kStands;
  UnevenStriking& uneven = d.programme->uneven;
  uneven.steps.resize(2);
  uneven.steps[0].stands = uneven.steps[1].stands = true;
  uneven.standing = 2;
  EXPECT_TRUE(find(required_checks(d), "stages_standing")->passes.value());
  uneven.steps[1].stands = false;
  uneven.standing = 1;
  uneven.words = {"Not proved to stand: R1-2 still up."};
  const auto checks = required_checks(d);
  const RequiredCheck* stages = find(checks, "stages_standing");
  EXPECT_FALSE(stages->passes.value());
  EXPECT_DOUBLE_EQ(stages->value.value(), 0.75);
  EXPECT_NE(stages->note.find("R1-2"), std::string::npos) << stages->note;
}

TEST(Required, UnknownSoilIsNotCleared) {
  Dossier d = proven();
  d.ground.emplace();
  FootingReport footing;
  footing.id = "west";
  footing.cleared = false;
  footing.reason = "soil unknown";
  d.ground->footings = {footing};
  EXPECT_FALSE(find(required_checks(d), "footings")->passes.has_value());
  d.brief.soil.kind = SoilKind::kDrained;
  footing.cleared = true;
  FootingCase loaded;
  loaded.bearing_used = 0.6;
  loaded.sliding_used = 0.8;
  footing.cases = {loaded};
  footing.worst_bearing = footing.worst_sliding = 0;
  d.ground->footings = {footing};
  auto checks = required_checks(d);
  EXPECT_TRUE(find(checks, "footings")->passes.value());
  EXPECT_DOUBLE_EQ(find(checks, "footings")->value.value(), 0.8);
  EXPECT_EQ(find(checks, "footings")->note, "");
  d.ground->footings[0].plain_depth_m = 0.53;  // drawn 0.5 m thick
  d.ground->footings[0].size.depth_m = 0.5;
  checks = required_checks(d);
  EXPECT_FALSE(find(checks, "footings")->passes.has_value());
  EXPECT_TRUE(find(checks, "footings")
                  ->note.starts_with("without bars too thin (EN 1992-1-1 12.9.3): west; thicken "));
}

TEST(Required, NoBlockIsHeavierThanTheBriefAllows) {
  Dossier d = proven();
  d.brief.blocks.mass_max_kg = 1000;
  for (const double mass : {800, 990}) {
    Block block;
    block.id = mass > 900 ? "big" : "small";
    block.density = mass;
    block.mass.volume = 1;
    block.carried = {{500, Vec3::Zero()}};  // what rides on it later is not lifted with it
    d.cut->assembly.blocks.push_back(block);
  }
  auto check = *find(required_checks(d), "block_mass");
  EXPECT_TRUE(check.passes.value());
  EXPECT_DOUBLE_EQ(check.value.value(), 990);
  EXPECT_EQ(check.note, "big");
  d.brief.blocks.mass_max_kg = 985;
  check = *find(required_checks(d), "block_mass");
  EXPECT_FALSE(check.passes.value());
  EXPECT_EQ(check.note, "1 over the limit, the heaviest big");
}

// Head joints slip at next to no force: what they use is not asked.
TEST(Required, FrictionInUseIsThatOfJointsThatCarry) {
  Dossier d = proven();
  d.brief.joints.friction = 0.6;
  for (const char* id : {"a", "b", "c"}) {
    Block block;
    block.id = id;
    d.cut->assembly.blocks.push_back(block);
  }
  Joint bed, head;
  bed.a = 0, bed.b = 1, head.a = 1, head.b = 2;
  d.cut->assembly.joints = {bed, head};
  for (CaseProof& proof : d.proofs) proof.friction_needed = 0.1;
  PadState state;
  state.found = true;
  state.joints.resize(2);
  state.joints[0].normal_n = 1000, state.joints[0].shear_n = 240;
  state.joints[1].normal_n = 99, state.joints[1].shear_n = 59;
  d.proofs[2].pads = state;
  const auto check = *find(required_checks(d), "friction_reserve");
  EXPECT_DOUBLE_EQ(check.value.value(), 6);
  EXPECT_NE(check.note.find("0.24 of 0.60 is in use, a | b, case half"), std::string::npos)
      << check.note;
}

TEST(Required, BlocksAreMadeByPrintingOrByLeaveCast) {
  Dossier d = proven();
  d.brief.print.wanted = false;
  EXPECT_EQ(find(required_checks(d), "blocks_made"), nullptr);
  d.brief.print.wanted = true;
  EXPECT_FALSE(find(required_checks(d), "blocks_made")->passes.has_value());
  d.print.emplace();
  d.print->blocks.resize(3);
  d.print->blocks[0].printable = true;
  d.print->blocks[1].way = PrintWay::kCast;
  d.print->blocks[2].reason = "fresh strength";
  EXPECT_FALSE(find(required_checks(d), "blocks_made")->passes.value());
  EXPECT_DOUBLE_EQ(find(required_checks(d), "blocks_made")->value.value(), 1);
  d.print->blocks[2].id = "west-03";
  EXPECT_EQ(find(required_checks(d), "blocks_made")->note,
            "1 to be printed, 1 to be cast, neither: west-03; west-03: fresh strength");
  d.print->blocks[2].printable = true;
  EXPECT_EQ(find(required_checks(d), "blocks_made")->note, "2 to be printed, 1 to be cast");
  EXPECT_TRUE(find(required_checks(d), "blocks_made")->passes.value());
}

TEST(Required, TheWalkIsAskedForOnlyWhereTheBriefDoes) {
  Dossier d = proven();
  d.access.emplace();
  d.access->gradient_max = 0.3;
  d.access->findings = {
      {"gradient", "west to east", 0, Vec3::Zero(), 0.3, 1.0 / 12, "", "", false, "longer ramps"}};
  EXPECT_EQ(find(required_checks(d), "walk_complies"), nullptr);
  d.brief.access.required = true;
  EXPECT_FALSE(find(required_checks(d), "walk_complies")->passes.value());
}

TEST(Required, ALostTieCountsWhereTheBriefAsks) {
  Dossier d = proven();
  d.ground.emplace();
  LossState held, not_held;
  held.tie = not_held.tie = "a-b";
  held.held = true;
  not_held.reason = "not held in case full: tie c-d breaks";
  d.ground->losses = {held, not_held};
  EXPECT_EQ(find(required_checks(d), "tie_loss"), nullptr);
  d.brief.required.tie_loss = true;
  const auto checks = required_checks(d);
  const RequiredCheck* loss = find(checks, "tie_loss");
  ASSERT_NE(loss, nullptr);
  EXPECT_EQ(loss->passes, false);
  EXPECT_DOUBLE_EQ(loss->value.value(), 0.5);
  EXPECT_NE(loss->note.find("tie c-d breaks"), std::string::npos);
  d.ground->losses = {held};
  EXPECT_EQ(find(required_checks(d), "tie_loss")->passes, true);
  d.ground.reset();
  EXPECT_FALSE(find(required_checks(d), "tie_loss")->passes);
}

TEST(Required, LimitsSayWhichWayTheyBind) {
  const auto checks = required_checks(proven());
  EXPECT_EQ(limit_words(*find(checks, "live_factor")), "at least 1.350");
  EXPECT_EQ(limit_words(*find(checks, "block_strength")), "at most 1.000");
  EXPECT_EQ(limit_words(*find(checks, "blocks_enter")), "at least 0.0 degrees");
}

// Legs that lean on each other in the middle do so through packing that no sheet has.
TEST(RequiredCentring, SaysThatPackingBetweenLegsIsCountedOn) {
  Dossier dossier;
  dossier.brief.centring.wanted = true;
  dossier.centring.emplace();
  dossier.centring->checks = {{"bending", 3, 4, "N m", 0.75, "R1", "place s3", ""}};
  EXPECT_EQ(required_centring(dossier)->note.find("packing"), std::string::npos);
  dossier.centring->legs_push_n = 7640;
  EXPECT_NE(
      required_centring(dossier)->note.find("packing between the ribs of its legs, for 7.6 kN"),
      std::string::npos);
}

}  // namespace
}  // namespace skewback
