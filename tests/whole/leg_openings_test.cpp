// Plans with an opening in a leg, from brief to proofs.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "base/constants.hpp"
#include "plan_dossier.hpp"

namespace skewback {
namespace {

const Dossier& stair_well() {
  static const Dossier dossier = standing_coarsely("stair-well", 3);
  return dossier;
}
const Dossier& tree_court() {
  static const Dossier dossier = standing_coarsely("tree-court", 3);
  return dossier;
}

class LegOpeningsStand : public testing::TestWithParam<bool> {
 protected:
  const Dossier& dossier = GetParam() ? stair_well() : tree_court();
};
INSTANTIATE_TEST_SUITE_P(Plans, LegOpeningsStand, testing::Bool(),
                         [](const auto& test) { return test.param ? "stair_well" : "tree_court"; });

TEST_P(LegOpeningsStand, UnderItsWeightWithEvidenceThatHolds) {
  expect_evidence_that_holds(dossier);
}

TEST_P(LegOpeningsStand, EdgesLieNearTheDrawing) {
  EXPECT_LE(dossier.form->plan_shift_max_m, 0.006);
  EXPECT_EQ(dossier.form->tension_max_n, 0);
  EXPECT_LE(dossier.cut->report.volume_error_rel, 1e-9);
}

TEST_P(LegOpeningsStand, JointsAreSquareToTheThrust) {
  EXPECT_LE(dossier.joint_angle_median_deg, 5);
  EXPECT_LE(dossier.joint_angle_max_deg, 15);
}

// Statics of the leg: over every course the beds together pass on the springing's force less the
// weight below, beside the opening through the blocks on either side.
TEST_P(LegOpeningsStand, BedsOfACoursePassOnTheLegsThrust) {
  const Assembly& assembly = dossier.cut->assembly;
  const auto block = [&](int i) -> const Block& {
    return assembly.blocks[static_cast<std::size_t>(i)];
  };
  int most = 0;
  for (const Block& b : assembly.blocks)
    if (b.place.arm == 0 && !b.place.crown) most = std::max(most, b.place.course);
  ASSERT_GT(most, 5);
  bool two_sides = false;
  Vec3 springing = Vec3::Zero();
  for (int course = 0; course < most; ++course) {
    Vec3 over = Vec3::Zero();
    double below = 0;
    std::set<int> lower;
    for (std::size_t j = 0; j < assembly.joints.size(); ++j) {
      const Block &a = block(assembly.joints[j].a), &b = block(assembly.joints[j].b);
      if (b.place.arm != 0 || a.place.arm != 0 || b.place.course != course + 1) continue;
      if (!a.fixed && a.place.course != course) continue;
      if (a.fixed && course > 0) continue;
      over += dossier.dead_resultants[j].force;  // from a onto b
      lower.insert(assembly.joints[j].a);
    }
    if (course == 0) springing = over;
    for (const Block& b : assembly.blocks)
      if (!b.fixed && b.place.arm == 0 && b.place.course <= course && !b.place.crown)
        below += mass_kg(b) * kGravity;
    EXPECT_LT((over - springing + Vec3(0, 0, below)).norm(), 1e-6 * springing.norm())
        << "course " << course;
    two_sides = two_sides || lower.size() == 2;
  }
  EXPECT_TRUE(two_sides);
}

// People stand on the leg's own case too, and nobody over the void.
TEST_P(LegOpeningsStand, LoadsKeepOffTheOpening) {
  std::set<std::string> ids;
  for (const CaseProof& proof : dossier.proofs) ids.insert(proof.id);
  EXPECT_TRUE(ids.contains("arm-" + dossier.brief.plan.supports[0].id));
  for (const LoadCase& load : dossier.cut->assembly.cases)
    for (const auto& force : load.live)
      for (const Polygon& opening : dossier.brief.plan.openings)
        EXPECT_FALSE(
            contains({Polygon(opening.rbegin(), opening.rend()), {}}, force.point.head<2>()))
            << load.id;
}

}  // namespace
}  // namespace skewback
