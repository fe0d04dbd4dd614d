// Depth, friction and pressure of the joints; combinations, states and footings that stand off.
#include "deliver/case_words.hpp"
#include "deliver/sample_dossier.hpp"
#include "lodge/said.hpp"
#include "works/live.hpp"

namespace skewback::lodge {
namespace {

TEST(FindingsJoints, DepthUnderTheWeight) {
  Dossier d = sample::small_dossier();
  d.required[1] = {"geometric_safety", 2.5, 2.0, true, "the brief", ""};
  auto f = said(d, "geometric_safety");
  EXPECT_EQ(f.at("share"), 0.8);
  EXPECT_EQ(f.at("weight"), 1);
  expect_says(f, "2.5 times as deep as the thrust needs; 2.0 is required");
  d.required[1] = {"geometric_safety", std::nullopt, 2.0, false, "the brief", "none found"};
  EXPECT_EQ(said(d, "geometric_safety").at("weight"), 0) << "failed, not unlooked at";
}

TEST(FindingsJoints, LeastDepthOfAllPatterns) {
  Dossier d = sample::small_dossier();
  d.depth_needed.emplace();
  d.depth_needed->live_factor = 1.35;
  d.depth_needed->cases = {{"dead", 0.3}, {"half, west", 0.853, false, 2}, {"half: west", 0.6}};
  d.depth_needed->share = 0.853;
  d.depth_needed->governing = 1;
  auto f = said(d, "depth_needed");
  expect_says(f,
              "85.3 % of the joints' depth would hold every pattern with the live load times "
              "1.35. Case half, west needs it, at joint v2 | v3.");
  EXPECT_EQ(f.at("share"), 0.853);
  EXPECT_EQ(f.at("weight"), 1);
  EXPECT_EQ(f.at("place").at("id"), "v2|v3");
  d.depth_needed->share.reset();
  d.depth_needed->unheld = {2};
  f = said(d, "depth_needed");
  expect_says(f, "The full depth of the joints does not hold half: west");
  EXPECT_EQ(f.at("weight"), 0);
}

TEST(FindingsJoints, FrictionOfTheCaseThatNeedsMost) {
  Dossier d = sample::small_dossier();
  d.brief.joints.friction = 0.6;
  d.proofs[0].friction_needed = 0.2;
  d.proofs[1].friction_needed = 0.4;
  d.proofs[2].friction_needed = 0.3;
  d.required.push_back({"friction_reserve", 1.5, 1.25, true, "the brief", ""});
  const auto f = said(d, "friction_reserve");
  expect_says(f, "Friction of 0.400 would do in case half, west; the joints have 0.60, 1.50 times");
  EXPECT_NEAR(f.at("share").get<double>(), 1.25 / 1.5, 1e-12);
  EXPECT_EQ(f.at("weight"), 1);
}

// Pads that found no state say nothing, however high their last pressure was.
TEST(FindingsJoints, TheJointPressedMostOfAllCases) {
  Dossier d = sample::small_dossier();
  d.brief.required.pad_stress_pa = 2e6;
  d.required.push_back({"joint_stress", 1.2, 1, true, "the brief", ""});
  PadState pads;
  pads.found = true;
  pads.joints.resize(d.cut->assembly.joints.size());
  pads.joints[1].peak_pa = 0.8e6;
  pads.joints[4].peak_pa = 1.5e6;
  pads.joints[5].peak_pa = 1.1e6;
  d.proofs[1].pads = pads;
  pads.joints[2].peak_pa = 1.4e6;
  d.proofs[2].pads = pads;
  pads.found = false;
  pads.joints[3].peak_pa = 1.9e6;
  d.proofs[0].pads = pads;
  const auto f = said(d, "joint_stress");
  expect_says(f, "Joint v4 | v5 is pressed by up to 1.50 MPa in case half, west");
  EXPECT_EQ(f.at("share"), 0.75);
  EXPECT_EQ(f.at("weight"), 3);
}

TEST(FindingsStand, LeastOfThePatternsNotOfCombinations) {
  Dossier d = sample::small_dossier();
  d.notes = {{"dead", CaseKind::kPattern, ""},
             {"half, west", CaseKind::kPattern, ""},
             {"half: west", CaseKind::kCombination, ""}};
  expect_says(said(d, "live_factor"), "Least in case half, west.");
  d.proofs[1].at_cap = true;
  expect_says(said(d, "live_factor"), "It carries at least 0.90 times");
}

TEST(FindingsStand, TheGoverningPatternIsNamedInWords) {
  Dossier d = sample::small_dossier();
  d.notes = {{"dead", CaseKind::kPattern, ""},
             {"half, west", CaseKind::kPattern, "weight, people on the west half"},
             {"half: west", CaseKind::kPattern, "weight, people by the west edge"}};
  expect_says(said(d, "live_factor"),
              "Least in case half: west (weight, people by the west edge).");
}

TEST(FindingsStand, TheWorstPatternSaysWhereItStands) {
  Dossier d = sample::small_dossier();
  d.worst_pattern.emplace();
  d.worst_pattern->load.id = "half, west";
  for (const int block : {2, 2, 4})
    d.worst_pattern->load.live.push_back({block, Vec3::Zero(), {0, 0, -1500}});
  d.proofs.push_back(sample::small_proof(deliver::kWorstCase, Verdict::kStands, 0.8));
  d.required[0].value = 0.8;
  d.notes = {{"dead", CaseKind::kPattern, ""},
             {"half, west", CaseKind::kPattern, ""},
             {"half: west", CaseKind::kPattern, ""},
             {deliver::kWorstCase, CaseKind::kPattern, "people at the worst place found"}};
  const auto name = [&](std::size_t b) { return d.cut->assembly.blocks[b].id; };
  expect_says(said(d, "live_factor"),
              "Least in case worst (people at the worst place found); 4.5 kN on " + name(2) + ", " +
                  name(4) + ", begun from case half, west.");
}

TEST(FindingsStand, CombinationsCountOnlyThoseThatStand) {
  Dossier d = sample::small_dossier();
  d.notes = {{"dead", CaseKind::kPattern, ""},
             {"half, west", CaseKind::kCombination, ""},
             {"half: west", CaseKind::kCombination, ""}};  // undecided
  d.required.push_back({"combinations", 0.5, 1, false, "", "half: west is undecided"});
  const auto f = said(d, "combinations");
  expect_says(f, "1 of 2 combinations of loads with their factors on stand. Half: west");
  EXPECT_EQ(f.at("weight"), 0);
}

TEST(FindingsStand, StatesBesideTheCases) {
  Dossier d = sample::small_dossier();
  d.tried.resize(2);
  d.tried[0].what = "30 K colder";
  d.tried[1].what = "a rod lost";
  d.tried[1].case_id = "half, west";
  d.tried[0].holds = d.tried[1].holds = true;
  EXPECT_EQ(said(d, "other_states").at("weight"), 3);
  expect_says(said(d, "other_states"), "all hold.");
  d.tried[1].holds = false;
  d.tried[1].reason = "no state";
  const auto f = said(d, "other_states");
  EXPECT_EQ(f.at("weight"), 0);
  expect_says(f, "1 do not hold: a rod lost. A rod lost: no state.");
  EXPECT_EQ(f.at("place").at("id"), "half, west");
}

TEST(FindingsStand, FootingsThatStandOff) {
  Dossier d = sample::small_dossier();
  d.brief.factors.moved = 1.5;
  d.moved.emplace();
  d.moved->shift_m = 0.02;
  d.moved->states = 24;
  d.moved->held = 24;
  d.moved->worst = "full, west out";
  d.required.push_back({"moved_footings", 1.0, 1, true, "", ""});
  expect_says(said(d, "moved_footings"),
              "With a footing moved 30.0 mm any way, 24 of 24 states hold. Pressed most: full");
  d.moved->held = 23;
  d.required.back().passes = false;
  expect_says(said(d, "moved_footings"), "23 of 24 states hold. First not held: full, west out.");
  d.moved->over = 3;
  d.moved->over_words = "3 of 24 states a joint is pressed too hard";
  expect_says(said(d, "moved_footings"),
              "west out. In 3 of 24 states a joint is pressed too hard.");
}

TEST(FindingsStand, ACaseWithLiveLoadIsShownWhereItIsWalkedOn) {
  EXPECT_EQ(said(sample::small_dossier(), "undecided").at("moment"), "walked");
}

TEST(FindingsStand, OfTheCasesProvedSoFarEachKeepsItsNote) {
  Dossier d = sample::small_dossier();
  d.required.clear();
  d.brief.required.live_factor = 1.35;
  d.notes = {{"dead", CaseKind::kPattern, ""},
             {"half, west", CaseKind::kCombination, ""},
             {"half: west", CaseKind::kPattern, ""}};
  d.proofs[0] = {};
  d.proofs[0].reason = kNotProvedYet;
  d.proofs[1].load_factor = 1.1;
  d.proofs[2].verdict = Verdict::kStands;
  d.proofs[2].load_factor = 2.2;
  expect_says(said(d, "live_factor"), "Least in case half: west.");
}

TEST(Findings, ACheckWithoutWordsOfItsOwnStillHasItsLine) {
  Dossier d = sample::small_dossier();
  d.required.push_back({"a_check_to_come", 2, 1, false, "", "too much"});
  const auto f = said(d, "a_check_to_come");
  expect_says(f, "A_check_to_come: too much.");
  EXPECT_EQ(f.at("weight"), 0);
}

}  // namespace
}  // namespace skewback::lodge
