#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "base/constants.hpp"
#include "deliver/facts.hpp"
#include "deliver/sample_dossier.hpp"
#include "deliver/text.hpp"

namespace skewback {
namespace {

using nlohmann::json;

TEST(Summary, HasTheKeysOfEachStageThatRan) {
  const json s = json::parse(summary_json(sample::small_dossier(), true));
  for (const char* key :
       {"ok", "form", "cut", "required", "stand", "ground", "print", "quantities", "timings_s"}) {
    EXPECT_TRUE(s.contains(key)) << key;
  }
  for (const char* key : {"body", "erect", "survey", "strength", "centring", "access"}) {
    EXPECT_FALSE(s.contains(key)) << key;
  }
}

TEST(Summary, LeavesTimingsOutWhenAsked) {
  const json s = json::parse(summary_json(sample::small_dossier(), false));
  EXPECT_FALSE(s.contains("timings_s"));
}

TEST(Summary, SaysWhichLoadsAreLeftOutAndNothingElse) {
  Dossier d = sample::small_dossier();
  EXPECT_FALSE(json::parse(summary_json(d, false)).contains("loads_left_out"));
  d.loads_left_out = {"the vehicle does not fit at vehicle-1-5: too short"};
  const json s = json::parse(summary_json(d, false));
  EXPECT_EQ(s["loads_left_out"],
            json::array({"the vehicle does not fit at vehicle-1-5: too short"}));
}

TEST(Summary, WritesNoNumberThatIsNotFinite) {
  const json s = json::parse(summary_json(sample::small_dossier(), false));
  EXPECT_TRUE(s["cut"]["volume_error_rel"].is_null());
}

TEST(Summary, SaysOfEachBlockHowItIsPrinted) {
  const json p = json::parse(summary_json(sample::small_dossier(), false))["print"];
  ASSERT_EQ(p["blocks"].size(), 7U);
  EXPECT_EQ(p["blocks"][0]["way"], "bed to bed");
  EXPECT_EQ(p["blocks"][0]["layers"], 20);
  EXPECT_NEAR(p["blocks"][0]["normal_to_thrust_deg"].get<double>(), 0.01 * 180 / kPi, 1e-9);
  EXPECT_EQ(p["blocks"][0]["files"], "print/v1");
  EXPECT_EQ(p["blocks"][1]["printable"], false);
  EXPECT_EQ(p["blocks"][1]["checks"][1]["passes"], false);
  EXPECT_TRUE(p["blocks"][1]["files"].is_null());
  EXPECT_EQ(p["blocks"][3]["way"], "cast");
  EXPECT_TRUE(p["blocks"][3]["normal_to_thrust_deg"].is_null());
  EXPECT_EQ(p["order"][1]["id"], "v3");
  EXPECT_EQ(p["batches"][0]["blocks"][0], "v1");
  EXPECT_EQ(p["days"], 2);
  double seconds = 0;
  for (const json& block : p["blocks"]) seconds += block["time_s"].get<double>();
  EXPECT_NEAR(p["print_h"].get<double>(), seconds / 3600, 1e-9);
}

TEST(Summary, NamesTheWorstCaseAndItsEvidence) {
  const json s = json::parse(summary_json(sample::small_dossier(), false));
  EXPECT_EQ(s["stand"]["governing"], "half: west");
  EXPECT_TRUE(s["stand"]["cases"][0]["load_factor"].is_null());
  EXPECT_EQ(s["stand"]["cases"][1]["verdict"], "stands");
  EXPECT_NE(s["stand"]["cases"][1]["certificate"], s["stand"]["cases"][2]["certificate"]);
}

TEST(Summary, SaysHowAStageStandsWithPeopleAndWind) {
  Dossier dossier = sample::small_dossier();
  dossier.programme.emplace();
  Stage alone;
  alone.step = 1;
  alone.what = "place";
  Stage tried = alone;
  tried.working.emplace();
  tried.working->verdict = Verdict::kFalls;
  tried.working->cases = 5;
  tried.working->standing = 4;
  tried.working->load_factor = 0.75;
  dossier.programme->stages = {alone, tried};
  const json stages = json::parse(summary_json(dossier, false))["erect"]["stages"];
  EXPECT_TRUE(stages[0]["working"].is_null());
  EXPECT_EQ(stages[1]["working"]["verdict"], "falls");
  EXPECT_EQ(stages[1]["working"]["standing"], 4);
  EXPECT_EQ(stages[1]["working"]["load_factor"], 0.75);
}

TEST(Order, PutsWhatFallsFirstAndTakesAllAtTheCapAlike) {
  std::vector<CaseProof> proofs = {sample::small_proof("capped", Verdict::kStands, 20.0),
                                   sample::small_proof("pressed", Verdict::kStands, 20.000001),
                                   sample::small_proof("weak", Verdict::kStands, 3.0),
                                   sample::small_proof("gone", Verdict::kFalls, 0.4)};
  proofs[0].at_cap = proofs[1].at_cap = true;
  proofs[1].joint_stress_max_pa = 2e6;
  EXPECT_EQ(deliver::worst_first(proofs), (std::vector<std::size_t>{3, 2, 1, 0}));
}

TEST(Summary, AnUncheckedRequirementIsNotPassed) {
  Dossier dossier = sample::small_dossier();
  dossier.required[0].passes = true;
  EXPECT_FALSE(dossier.all_required_pass());
  EXPECT_EQ(json::parse(summary_json(dossier, false))["required"][1]["passes"], "not checked");
  dossier.required[1].passes = true;
  EXPECT_TRUE(dossier.all_required_pass());
  dossier.required.clear();
  EXPECT_FALSE(dossier.all_required_pass());
}

// Two rods of 16 mm, 6 m long, of steel of 7850 kg/m3: 2 * 6 * pi/4 * 0.016^2 * 7850, by hand.
TEST(Summary, WeighsTheSteelOfTheTies) {
  const json s = json::parse(summary_json(sample::small_dossier(), false));
  EXPECT_NEAR(s["quantities"]["steel_kg"].get<double>(), 18.9404, 1e-3);
}

TEST(Names, BecomeFilesThatNeverCollide) {
  EXPECT_EQ(deliver::file_stem("half, west"), "half__west");
  EXPECT_EQ(deliver::file_stem("../up"), "_._up");
  const auto paths = deliver::evidence_paths(sample::small_dossier().proofs, "evidence");
  EXPECT_EQ(paths[1], "evidence/half__west.json");
  EXPECT_EQ(paths[2], "evidence/half__west~2.json");
}

TEST(Numbers, AreWrittenTheSameEverywhere) {
  EXPECT_EQ(deliver::fixed(-0.0001, 2), "0.00");
  EXPECT_EQ(deliver::fixed(1234.5678, 1), "1234.6");
  EXPECT_EQ(deliver::fixed(std::numeric_limits<double>::infinity(), 1), "n/a");
  EXPECT_EQ(deliver::scientific(3.24e-13), "3.2e-13");
}

}  // namespace
}  // namespace skewback
