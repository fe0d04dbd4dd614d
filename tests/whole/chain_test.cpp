// The whole chain on the demos: what must hold from brief to folder.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>

#include "base/constants.hpp"
#include "verify/verify.hpp"
#include "works/works.hpp"

namespace skewback {
namespace {

namespace fs = std::filesystem;

Brief demo(const std::string& name) {
  Result<Brief> brief =
      read_brief(fs::path(SKEWBACK_SOURCE_DIR) / "examples" / name / "brief.toml");
  EXPECT_TRUE(brief.ok()) << describe(brief.faults().front());
  return std::move(brief).value();
}

Dossier run(const Brief& brief, const std::string& until = "") {
  Result<Dossier> dossier = run_works(brief, {0, until}, {});
  EXPECT_TRUE(dossier.ok()) << describe(dossier.faults().front());
  return std::move(dossier).value();
}

const Dossier& drovers() {
  static const Dossier dossier = run(demo("drovers-hop"));
  return dossier;
}
const Dossier& wren() {
  static const Dossier dossier = run(demo("wren-leat"), "ground");  // demo_wren-leat runs the rest
  return dossier;
}

double factor(const Dossier& dossier, const std::string& id) {
  for (const CaseProof& proof : dossier.proofs) {
    if (proof.id == id && proof.load_factor) return *proof.load_factor;
  }
  ADD_FAILURE() << "no load factor for case " << id;
  return 0;
}

void expect_sound(const Dossier& dossier) {
  const Form& form = *dossier.form;
  EXPECT_LE(form.residual_rel, 1e-10);
  EXPECT_EQ(form.tension_max_n, 0);
  EXPECT_NEAR(form.rise_m, dossier.brief.form.rise_m, 1e-3);
  const CutReport& report = dossier.cut->report;
  EXPECT_LE(report.volume_error_rel, 1e-9);
  EXPECT_TRUE(report.watertight);
  for (const Block& block : dossier.cut->assembly.blocks) {
    if (block.fixed) continue;
    EXPECT_FALSE(self_intersects(block.solid).value()) << block.id;
    EXPECT_LE(concrete_mass_kg(block), dossier.brief.blocks.mass_max_kg) << block.id;
  }
  EXPECT_LE(dossier.joint_angle_median_deg, 5);
  EXPECT_LE(dossier.joint_angle_max_deg, 12);
  // joints that carry under a tenth of the greatest force: within friction over its factor
  EXPECT_LE(dossier.joint_angle_light_deg,
            std::atan(dossier.brief.joints.friction / 1.25) * 180 / 3.14159265358979);
  for (const CaseProof& proof : dossier.proofs) EXPECT_LE(proof.residual_rel, 1e-9) << proof.id;
}

TEST(Chain, DroversHopIsSound) {
  expect_sound(drovers());
  EXPECT_EQ(drovers().cut->assembly.blocks.size(), 23U + 2U);
}

TEST(Chain, WrenLeatIsSound) {
  expect_sound(wren());
  EXPECT_NEAR(wren().cut->report.leaf_least_m, wren().brief.section.leaf_m, 1e-3);
}

// Hand statics, no tool: the vertical reactions of a symmetric arch are half its weight each, and
// the supports' horizontal forces cancel.
TEST(Chain, ReactionsBalanceTheWeight) {
  for (const Dossier* dossier : {&drovers(), &wren()}) {
    double weight = 0;
    for (const Block& block : dossier->cut->assembly.blocks)
      weight += block.fixed ? 0 : mass_kg(block) * kGravity;
    Vec3 sum = Vec3::Zero();
    for (const SupportReaction& support : dossier->ground->supports) sum += support.force;
    EXPECT_NEAR(sum.z() / weight, 1, 1e-9);
    EXPECT_LE(sum.head<2>().norm() / weight, 1e-9);
  }
  EXPECT_NEAR(drovers().ground->supports[0].force.z() / drovers().ground->supports[1].force.z(), 1,
              0.01);
}

// People on the walking surface: 5 kPa on 9.0 x 1.5 m, by hand.
TEST(Chain, TheCrowdWeighsWhatItShould) {
  for (const LoadCase& load : drovers().cut->assembly.cases) {
    if (load.id != "full") continue;
    Vec3 sum = Vec3::Zero();
    for (const LiveForce& live : load.live) sum += live.force;
    EXPECT_NEAR(sum.z(), -5000 * 9.0 * 1.5, 1);
  }
}

TEST(Chain, ALoadOnOneSideTwistsItsBlocks) {
  const Assembly& assembly = drovers().cut->assembly;
  for (const LoadCase& load : assembly.cases) {
    if (load.id != "left-side") continue;
    ASSERT_FALSE(load.live.empty());
    for (const LiveForce& live : load.live) {
      // a strip 0.75 m wide beside the middle: its resultant is 0.375 m off, so the moment about
      // the axis is not 0
      const Vec3 arm =
          live.point - centre_of_gravity(assembly.blocks[static_cast<std::size_t>(live.block)]);
      EXPECT_NEAR(arm.cross(live.force).x() / live.force.norm(), -0.375, 0.02);
    }
  }
}

TEST(Chain, ALoadOnOneArmIsFeltInAllThree) {
  std::map<std::string, std::vector<SupportReaction>> by_case;
  for (const TieState& state : wren().ground->cases) by_case[state.case_id] = state.supports;
  ASSERT_EQ(by_case.count("arm-yard"), 1U);
  for (std::size_t k = 0; k < 3; ++k) {
    EXPECT_GT((by_case["arm-yard"][k].force - by_case["dead"][k].force).norm(), 1000)
        << by_case["dead"][k].id;
  }
}

TEST(Chain, FillingTheVoidsIsSeen) {
  Brief hollow = demo("drovers-hop");
  hollow.section.hollow = true;
  Brief solid = hollow;
  solid.section.hollow = false;
  const Dossier a = run(hollow, "stand"), b = run(solid, "stand");
  const Assembly &x = a.cut->assembly, &y = b.cut->assembly;
  ASSERT_EQ(x.blocks.size(), y.blocks.size());
  const std::size_t springer = 2;  // after the two ground blocks
  EXPECT_LT(x.blocks[springer].mass.volume, 0.7 * y.blocks[springer].mass.volume);
  EXPECT_GT((x.blocks[springer].mass.centroid - y.blocks[springer].mass.centroid).norm(), 1e-5);
  EXPECT_LT(area(x.joints[0].contact), 0.7 * area(y.joints[0].contact));
  EXPECT_LE(a.cut->report.volume_error_rel, 1e-9);
  // less weight, less resistance to a crowd on one half
  EXPECT_LT(factor(a, "arm-west"), 0.9 * factor(b, "arm-west"));
}

TEST(Chain, AThinnerArchIsWorseAndOneTooThinFalls) {
  Brief thin = demo("drovers-hop");
  thin.section.depth_crown_m = thin.section.depth_springing_m = 0.20;
  const Dossier thinner = run(thin, "stand");
  EXPECT_LT(factor(thinner, "arm-west"), 0.8 * factor(drovers(), "arm-west"));
  Brief heavy = thin;
  heavy.loads.people_pa = 40e3;
  const Dossier crowded = run(heavy, "stand");
  for (const CaseProof& proof : crowded.proofs) {
    if (proof.id != "arm-west") continue;
    EXPECT_EQ(proof.verdict, Verdict::kFalls) << proof.reason;
    EXPECT_TRUE(std::holds_alternative<Mechanism>(proof.evidence));
    EXPECT_LT(*proof.load_factor, 1);
  }
}

TEST(Chain, ABriefThatFailsSaysWhichChangeHelpsAndItDoes) {
  Brief crowded = demo("drovers-hop");
  crowded.loads.people_pa = 30e3;
  const Dossier fails = run(crowded);
  ASSERT_EQ(fails.required.front().name, "live_factor");
  EXPECT_FALSE(*fails.required.front().passes);
  double percent = 0;
  const std::string& note = fails.required.front().note;
  const auto at = note.find("a section ");
  ASSERT_NE(at, std::string::npos) << note;
  ASSERT_EQ(std::sscanf(note.c_str() + at, "a section %lf", &percent), 1) << note;
  crowded.section.depth_crown_m *= 1 + percent / 100;
  crowded.section.depth_springing_m *= 1 + percent / 100;
  EXPECT_TRUE(*run(crowded, "stand").required.front().passes);
}

std::map<std::string, std::string> contents(const fs::path& folder) {
  std::map<std::string, std::string> out;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    if (!entry.is_regular_file()) continue;
    std::ifstream in(entry.path(), std::ios::binary);
    std::stringstream text;
    text << in.rdbuf();
    out[fs::relative(entry.path(), folder).string()] = text.str();
  }
  return out;
}

TEST(Chain, ASecondRunWritesTheSameBytesAndItsEvidenceHolds) {
  const fs::path base = fs::temp_directory_path() / "skewback-chain-test";
  fs::remove_all(base);
  fs::create_directories(base);
  const Dossier again = run(demo("drovers-hop"));
  ASSERT_TRUE(write_folder(drovers(), base / "one").ok());
  ASSERT_TRUE(write_folder(again, base / "two").ok());
  auto one = contents(base / "one"), two = contents(base / "two");
  ASSERT_EQ(one.size(), two.size());
  EXPECT_GT(one.size(), 10U);
  one["summary.json"] = summary_json(drovers(), false);  // timings are the one part that may differ
  two["summary.json"] = summary_json(again, false);
  for (const auto& [name, text] : one) EXPECT_EQ(text == two[name], true) << name << " differs";

  const auto report = verify_folder(base / "one");
  ASSERT_TRUE(report.ok());
  EXPECT_TRUE(report->ok());
  fs::remove_all(base);
}

TEST(Chain, AStopRequestLeavesNothing) {
  const std::atomic<bool> stop{true};
  EXPECT_THROW((void)run_works(demo("drovers-hop"), {}, Progress(nullptr, &stop)), Interrupted);
}

}  // namespace
}  // namespace skewback
