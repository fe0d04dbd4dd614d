// A plan whose arms meet at the two ends of a spine, from brief to folder.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "base/constants.hpp"
#include "plan_dossier.hpp"

namespace skewback {
namespace {

const Dossier& twin_forks() {
  static const Dossier dossier = standing_coarsely("twin-forks", 0);
  return dossier;
}

TEST(TwoMeetings, StandsUnderItsWeightWithEvidenceThatHolds) {
  expect_evidence_that_holds(twin_forks());
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
