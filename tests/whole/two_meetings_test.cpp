// A plan whose arms meet at the two ends of a spine, from brief to folder.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <set>

#include "base/constants.hpp"
#include "verify/verify.hpp"
#include "works/works.hpp"

namespace skewback {
namespace {

namespace fs = std::filesystem;

const Dossier& twin_forks() {
  static const Dossier dossier = [] {
    const fs::path file = fs::path(SKEWBACK_SOURCE_DIR) / "tests/whole/plans/twin-forks.toml";
    Result<Brief> brief = read_brief(file);
    EXPECT_TRUE(brief.ok()) << describe(brief.faults().front());
    Brief coarse = *brief;  // fewer blocks, so that the proofs take seconds
    coarse.blocks.mass_max_kg = 1400;
    coarse.blocks.width_max_m = 0;
    coarse.blocks.length_m = 0.7;
    Result<Dossier> run = run_works(coarse, {0, "stand"}, {});
    EXPECT_TRUE(run.ok()) << describe(run.faults().front());
    return std::move(run).value();
  }();
  return dossier;
}

TEST(TwoMeetings, StandsUnderItsWeightWithEvidenceThatHolds) {
  const Dossier& dossier = twin_forks();
  const auto dead = std::ranges::find(dossier.proofs, "dead", &CaseProof::id);
  ASSERT_NE(dead, dossier.proofs.end());
  EXPECT_EQ(dead->verdict, Verdict::kStands);
  for (const CaseProof& proof : dossier.proofs) EXPECT_LE(proof.residual_rel, 1e-9) << proof.id;
  const fs::path folder = fs::temp_directory_path() / "skewback-two-meetings-test";
  fs::remove_all(folder);
  const auto written = write_folder(dossier, folder);
  ASSERT_TRUE(written.ok()) << describe(written.faults().front());
  const auto report = verify_folder(folder);
  ASSERT_TRUE(report.ok());
  EXPECT_TRUE(report->ok());
  EXPECT_EQ(report->files.size() >= dossier.proofs.size(), true);
  fs::remove_all(folder);
}

// Across beds the force is nearly square to them, at the meetings and along the spine too.
TEST(TwoMeetings, JointsAreSquareToTheThrust) {
  EXPECT_LE(twin_forks().joint_angle_median_deg, 5);
  EXPECT_LE(twin_forks().joint_angle_max_deg, 12);
}

// Statics of the whole: the spine's thrust is that of either end's legs together.
TEST(TwoMeetings, ThrustOfTheLegsAtEitherEndIsThatOfTheSpine) {
  const Dossier& dossier = twin_forks();
  const Assembly& assembly = dossier.cut->assembly;
  Vec3 at_first = Vec3::Zero(), over_key = Vec3::Zero();
  double weight = 0;
  for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
    const Joint& joint = assembly.joints[j];
    const Block &a = assembly.blocks[static_cast<std::size_t>(joint.a)],
                &b = assembly.blocks[static_cast<std::size_t>(joint.b)];
    const Vec3& force = dossier.dead_resultants[j].force;  // from a onto b
    if (a.fixed && a.place.arm < 2) at_first += force;
    const bool into_key = b.place.arm < 0 && a.place.arm == 4 && b.place.course > a.place.course;
    if (into_key) over_key += force;
  }
  // the first end's blocks up to the key's bed
  for (const Block& block : assembly.blocks) {
    const bool of_it = block.place.arm == 0 || block.place.arm == 1 || block.place.arm == 4 ||
                       block.id.starts_with("key-a");
    if (!block.fixed && of_it) weight += mass_kg(block) * kGravity;
  }
  ASSERT_GT(over_key.norm(), 0);
  EXPECT_LT((at_first - over_key).head<2>().norm(), 1e-6 * over_key.norm());
  EXPECT_NEAR((at_first - over_key).z(), weight, 1e-6 * weight);
}

TEST(TwoMeetings, PeopleStandOnTheSpineAndOnEachArm) {
  std::set<std::string> ids;
  for (const CaseProof& proof : twin_forks().proofs) ids.insert(proof.id);
  for (const char* id :
       {"arm-kiln", "arm-pound", "arm-osier", "arm-stile", "spine", "all-but-spine", "middle"})
    EXPECT_TRUE(ids.contains(id)) << id;
}

}  // namespace
}  // namespace skewback
