// The sentences: worst first, one a check, each with its place and its moment.
#include <gtest/gtest.h>

#include <set>

#include "deliver/sample_survey.hpp"
#include "lodge/said.hpp"
#include "lodge/sample_steps.hpp"
#include "works/live.hpp"

namespace skewback::lodge {
namespace {

using Json = nlohmann::ordered_json;

bool has(const Json& finding, const std::string& words) {
  return finding.at("says").get<std::string>().find(words) != std::string::npos;
}

TEST(Findings, WorstFirstAndEachCheckOnce) {
  const Json list = findings(sample::surveyed_dossier()).at("list");
  std::set<std::string> ids;
  int before = 0;
  double share = 1e9;
  for (const Json& f : list) {
    const std::string id = f.at("id");
    EXPECT_TRUE(ids.insert(id).second) << id << " twice";
    const int weight = f.at("weight");
    ASSERT_GE(weight, before) << id;
    if (weight > before) share = 1e9;
    before = weight;
    const double now = f.at("share").is_null() ? 0 : f.at("share").get<double>();
    EXPECT_LE(now, share) << id;
    share = now;
    const std::string says = f.at("says");
    ASSERT_FALSE(says.empty()) << id;
    EXPECT_EQ(says.back(), '.') << says;
    EXPECT_TRUE(says.front() >= 'A' && says.front() <= 'Z') << says;
    EXPECT_EQ(says.find(".."), std::string::npos) << says;
    EXPECT_EQ(says.find("nan"), std::string::npos) << says;
    EXPECT_FALSE(f.at("moment").get<std::string>().empty()) << id;
    EXPECT_TRUE(f.at("place").contains("at")) << id;
  }
  EXPECT_EQ(list.at(0).at("weight"), 0);
}

// A case that is still to be proved is no failure.
TEST(Findings, WhatIsOnItsWayIsNotChecked) {
  Dossier d = sample::small_dossier();
  d.required.clear();
  ASSERT_GT(d.proofs.size(), 1u);
  for (std::size_t i = 1; i < d.proofs.size(); ++i) {
    d.proofs[i] = {};
    d.proofs[i].reason = kNotProvedYet;
  }
  d.proofs[0].verdict = Verdict::kStands;
  const Json f = said(d, "cases");
  EXPECT_EQ(f.at("weight"), 2);
  EXPECT_TRUE(has(f, "1 of " + std::to_string(d.proofs.size()) + " cases are proved so far"));
  EXPECT_TRUE(said(d, "undecided").is_null());
  // no case with people yet: that is no failure either
  EXPECT_EQ(said(d, "live_factor").at("weight"), 2);
  d.proofs[1].reason = "the pads find no state";
  EXPECT_EQ(said(d, "undecided").at("weight"), 0);
}

TEST(Findings, LiveFactorWithItsCaseAndLimit) {
  Dossier d = sample::small_dossier();
  d.proofs[2].governing_joint = 3;
  const Json f = said(d, "live_factor");
  EXPECT_EQ(f.at("weight"), 0);
  EXPECT_NEAR(f.at("share").get<double>(), 1.5, 1e-12);
  EXPECT_TRUE(has(f, "0.90 times")) << f.at("says");
  EXPECT_TRUE(has(f, "1.35 is required")) << f.at("says");
  EXPECT_TRUE(has(f, "case half: west")) << f.at("says");
  EXPECT_TRUE(has(f, "The worst place for people was not sought yet.")) << f.at("says");
  // the joint pressed most at factor 1 is none of the mechanism's
  EXPECT_FALSE(has(f, "v3")) << f.at("says");
  EXPECT_EQ(f.at("place").at("id"), "half: west");
  EXPECT_EQ(f.at("moment"), "walked");
  d.required[0] = {"live_factor", 1.5, 1.35, true, "the brief", ""};
  EXPECT_EQ(said(d, "live_factor").at("weight"), 1) << "0.9 of its limit is near";
  d.required[0] = {"live_factor", 4.0, 1.35, true, "the brief", ""};
  EXPECT_EQ(said(d, "live_factor").at("weight"), 3);
  d.required[0] = {"live_factor", 4.0, 1.35, false, "the brief", ""};
  const Json fails = said(d, "live_factor");
  EXPECT_EQ(fails.at("weight"), 0);
  EXPECT_TRUE(has(fails, "But not every case")) << "else it reads as a pass: " << fails.at("says");
}

TEST(Findings, MovedFootingsThatPressAJointTooMuchAreNear) {
  Dossier d = sample::small_dossier();
  d.moved.emplace();
  d.moved->states = d.moved->held = 12;
  d.required = {{"moved_footings", 1.0, 1, true, "the brief", ""}};
  EXPECT_EQ(said(d, "moved_footings").at("weight"), 3);
  d.moved->over = 3;
  d.moved->over_words = "3 of 12 states a joint is pressed beyond what it takes";
  const Json f = said(d, "moved_footings");
  EXPECT_EQ(f.at("weight"), 1);
  EXPECT_TRUE(has(f, "In 3 of 12 states")) << f.at("says");
}

TEST(Findings, CasesThatDoNotStand) {
  Dossier d = sample::small_dossier();
  Json f = said(d, "undecided");
  EXPECT_EQ(f.at("weight"), 0);
  EXPECT_TRUE(has(f, "Case half: west is undecided: between the two cones.")) << f.at("says");
  EXPECT_TRUE(said(d, "falls").is_null());
  EXPECT_TRUE(said(d, "cases").is_null());
  d.proofs[0].verdict = Verdict::kFalls;
  d.proofs[0].reason = "four hinges";
  f = said(d, "falls");
  EXPECT_TRUE(has(f, "Case dead falls: four hinges.")) << f.at("says");
  EXPECT_EQ(f.at("moment"), "struck");
  for (CaseProof& proof : d.proofs) proof.verdict = Verdict::kStands;
  EXPECT_TRUE(has(said(d, "cases"), "All 3 cases stand")) << said(d, "cases");
}

TEST(Findings, WhatIsJustOverItsLimitReadsOverIt) {
  Dossier d = sample::small_dossier();
  d.required[0] = {"live_factor", 1.3497, 1.35, false, "the brief", ""};
  EXPECT_TRUE(has(said(d, "live_factor"),
                  "It carries 1.3497 times its live load beside its weight; "
                  "1.35 is required."))
      << said(d, "live_factor");
  d.brief.blocks.mass_max_kg = mass_kg(d.cut->assembly.blocks[0]) - 0.2;
  const Json heavy = said(d, "block_mass");
  ASSERT_EQ(heavy.at("weight"), 0);
  const auto says = heavy.at("says").get<std::string>();
  const auto weighs = says.find("weighs ") + 7, allowed = says.find("; ") + 2;
  EXPECT_GT(std::stod(says.substr(weighs)), std::stod(says.substr(allowed))) << says;
  d.depth_needed.emplace();
  d.depth_needed->share = 1.0003;
  EXPECT_TRUE(has(said(d, "depth_needed"), "100.03 % of the joints' depth"))
      << said(d, "depth_needed");
}

TEST(Findings, WhatIsNotCheckedSaysSo) {
  const Dossier d = sample::small_dossier();
  const Json f = said(d, "geometric_safety");
  EXPECT_EQ(f.at("weight"), 2);
  EXPECT_TRUE(has(f, "Not checked")) << f.at("says");
  EXPECT_TRUE(has(f, "Not computed.")) << f.at("says");
  EXPECT_TRUE(has(said(d, "not_run"), "strength of the blocks")) << said(d, "not_run");
  EXPECT_FALSE(has(said(d, "not_run"), "survey as built")) << "none was asked for";
  EXPECT_TRUE(has(said(d, "not_asked"), "survey as built")) << said(d, "not_asked");
}

TEST(Findings, BeforeAnyProofNothingFails) {
  Dossier d = sample::small_dossier();
  d.required.clear();
  d.proofs.clear();
  d.print.reset();
  d.ground.reset();
  const Json list = findings(d).at("list");
  for (const Json& f : list) EXPECT_NE(f.at("weight"), 0) << f.at("says");
  Dossier drawn;
  drawn.form = d.form;
  EXPECT_FALSE(findings(drawn).at("list").empty()) << "what is not worked out yet";
}

TEST(Findings, PressureNamesJointCaseAndLimit) {
  Dossier d = sample::small_dossier();
  d.brief.required.pad_stress_pa = 2e6;
  d.required.push_back({"joint_stress", 1.1, 1, true, "the brief", ""});
  PadState pads;
  pads.found = true;
  pads.joints.resize(d.cut->assembly.joints.size());
  pads.joints[5].peak_pa = 1.8e6;
  d.proofs[1].pads = pads;
  const Json f = said(d, "joint_stress");
  EXPECT_EQ(f.at("weight"), 1);
  EXPECT_NEAR(f.at("share").get<double>(), 0.9, 1e-12);
  EXPECT_TRUE(has(f, "Joint v5 | v6 is pressed by up to 1.80 MPa in case half, west; 2.00 MPa"))
      << f.at("says");
  EXPECT_EQ(f.at("place").at("kind"), "joint");
}

TEST(Findings, BlockThatIsNotStrongEnough) {
  Dossier d = sample::small_dossier();
  BlockFinding weak{4, "across", "half, west", 2.4e6, 2e6, "Pa", 1.2, "lower skin", ""};
  d.strength = BlockChecks{{weak}, 0, SectionProposal{0.07, 0.145, 1.2, 0.94, ""}, {}};
  d.required.push_back({"block_strength", 1.2, 1, false, "", ""});
  const Json f = said(d, "block_strength");
  EXPECT_EQ(f.at("weight"), 0);
  EXPECT_TRUE(has(f, "Block v5 is not strong enough: across, 2.40 MPa of 2.00 MPa"))
      << f.at("says");
  EXPECT_TRUE(has(f, "Leaves of 70.0 mm and webs at most 145.0 mm apart")) << f.at("says");
  EXPECT_EQ(f.at("place").at("id"), "v5");
  EXPECT_EQ(f.at("moment"), "cut");
}

TEST(Findings, StageThatDoesNotStand) {
  Dossier d = sample::small_dossier();
  d.programme = sample::steps_placing(3);
  d.programme->stages[1].proof.verdict = Verdict::kFalls;
  d.programme->stages[1].proof.reason = "it slides";
  d.required[2] = {"stages_standing", 2.0 / 3, 1, false, "design rule", ""};
  const Json f = said(d, "stages_standing");
  EXPECT_TRUE(has(f, "Step 2 (place v2): falls under its weight: it slides.")) << f.at("says");
  EXPECT_EQ(f.at("moment"), "stage 2");
  EXPECT_EQ(f.at("place").at("kind"), "stage");
}

TEST(Findings, CentringAndItsStage) {
  Dossier d = sample::surveyed_dossier();
  d.required.push_back({"centring", 1.116, 1, false, "", ""});
  d.centring->checks[1].stage = "place v3 (step 12)";
  d.centring->checks[1].place = "R2-1, upper end";
  const Json f = said(d, "centring");
  EXPECT_EQ(f.at("weight"), 0);
  EXPECT_TRUE(has(f, "112 % of its strength: shear")) << f.at("says");
  EXPECT_EQ(f.at("moment"), "stage 12");
  EXPECT_EQ(f.at("place").at("kind"), "foot");
}

TEST(Findings, TieWithoutARodThatHoldsIt) {
  Dossier d = sample::small_dossier();
  EXPECT_EQ(said(d, "ties").at("weight"), 0) << "none of the series";
  d.ground->ties[0].thread = "M16";
  d.ground->ties[0].governing_n = 30e3;
  d.ground->ties[0].resistance_n = 60e3;
  const Json f = said(d, "ties");
  EXPECT_EQ(f.at("weight"), 3);
  EXPECT_TRUE(has(f, "30.0 kN with factors on; M16 resists 60.0 kN")) << f.at("says");
  EXPECT_EQ(f.at("place").at("kind"), "tie");
  EXPECT_NEAR(f.at("place").at("at").at(2).get<double>(), -0.3, 1e-12);
}

TEST(Findings, WalkThatIsTooSteep) {
  Dossier d = sample::small_dossier();
  AccessReport access;
  d.brief.access.gradient_max = 1.0 / 12;
  access.gradient_max = 0.12;
  access.findings = {{"gradient",
                      "west to meeting",
                      0.5,
                      {-2.5, 0, 1.7},
                      0.12,
                      1.0 / 12,
                      "",
                      "",
                      false,
                      "lower the rise by 0.30 m"}};
  d.access = access;
  const Json warned = said(d, "walk_complies");
  EXPECT_EQ(warned.at("weight"), 1) << "to be known, no failure";
  EXPECT_TRUE(warned.at("share").is_null()) << "no share of a limit that is not asked for";
  EXPECT_TRUE(has(warned, "(the brief does not require it)")) << warned.at("says");
  EXPECT_TRUE(has(warned, "gradient 12.0 %, limit 8.3 %, west to meeting.")) << warned.at("says");
  EXPECT_TRUE(has(warned, "Lower the rise by 0.30 m.")) << warned.at("says");
  d.required.push_back({"walk_complies", 0.12, 1.0 / 12, false, "", ""});
  EXPECT_EQ(said(d, "walk_complies").at("weight"), 0);
  EXPECT_NEAR(said(d, "walk_complies").at("share"), 1.44, 1e-12);
  EXPECT_FALSE(has(said(d, "walk_complies"), "does not require"));
}

TEST(Findings, AsSurveyed) {
  Dossier d = sample::surveyed_dossier();
  d.required.push_back({"as_built", 2.31, 1.35, true, "the brief", "18 packers"});
  const Json f = said(d, "as_built");
  EXPECT_EQ(f.at("weight"), 3);
  EXPECT_TRUE(has(f, "footing west is 17 mm out")) << f.at("says");
  EXPECT_TRUE(has(f, "2.31 times its live load")) << f.at("says");
  EXPECT_EQ(f.at("moment"), "as built");
  EXPECT_EQ(said(d, "measure_again").at("weight"), 1);
  d.required.back() = {"as_built", 2.31, 1.35,
                       false,      "",   "joint stress as its gaps close, at v3 | v4"};
  const Json fails = said(d, "as_built");
  EXPECT_EQ(fails.at("weight"), 0);
  EXPECT_TRUE(fails.at("share").is_null()) << "not for its factor";
  EXPECT_TRUE(has(fails, "Joint stress as its gaps close, at v3 | v4.")) << fails.at("says");
}

TEST(Findings, BlocksThatCannotBeMade) {
  Dossier d = sample::small_dossier();
  d.required.push_back({"blocks_made", 1, 0, false, "", ""});
  const Json f = said(d, "blocks_made");
  EXPECT_TRUE(has(f, "1 block can be neither printed nor cast: v2.")) << f.at("says");
  EXPECT_TRUE(has(f, "v2: overhang 23.5 degrees, over 20.")) << f.at("says");
  EXPECT_EQ(f.at("place").at("id"), "v2");
  EXPECT_EQ(f.at("moment"), "printed");
}

}  // namespace
}  // namespace skewback::lodge
