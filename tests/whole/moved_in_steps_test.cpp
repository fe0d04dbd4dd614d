// A footing of lantern-court goes 20 mm outward under people everywhere. Put on at once with the
// loads, no state is found; in steps there is one. Balance and Coulomb's law are looked at here.

#include <gtest/gtest.h>

#include <algorithm>

#include "stand/pad_path.hpp"
#include "works/works.hpp"

namespace skewback {
namespace {

TEST(WholePads, AFootingMovedInStepsEndsInBalance) {
  const auto brief =
      read_brief(std::string(SKEWBACK_SOURCE_DIR) + "/examples/lantern-court/brief.toml");
  ASSERT_TRUE(brief.ok());
  const auto dossier = run_works(*brief, {0, "loads"}, {});
  ASSERT_TRUE(dossier.ok());
  const Assembly& assembly = dossier->cut->assembly;
  const auto full = std::ranges::find(assembly.cases, "full", &LoadCase::id);
  const auto foot = std::ranges::find(assembly.blocks, "ground-south-west", &Block::id);
  ASSERT_TRUE(full != assembly.cases.end() && foot != assembly.blocks.end());
  PadOptions pads;
  pads.tolerance = 1e-7;
  BlockMove move;
  move.block = static_cast<int>(foot - assembly.blocks.begin());
  move.shift = 0.020 * Vec3(-1, -1, 0).normalized();  // away from the middle of the square
  pads.moves = {move};
  const PadState state =
      state_at_once_or_in_steps(PadModel(assembly, dossier->stand_options), *full, pads);
  ASSERT_TRUE(state.found) << state.reason;

  std::vector<Vec3> force(assembly.blocks.size(), Vec3::Zero()), moment = force;
  double weight_most = 0;
  for (std::size_t b = 0; b < assembly.blocks.size(); ++b) {
    const double m = mass_kg(assembly.blocks[b]);
    if (!assembly.blocks[b].fixed) weight_most = std::max(weight_most, m * kGravity);
    force[b] = m * (full->gravity + full->live_acceleration);
  }
  const auto put = [&](int block, const Vec3& p, const Vec3& f) {
    const auto b = static_cast<std::size_t>(block);
    force[b] += f;
    moment[b] += (p - assembly.blocks[b].mass.centroid).cross(f);
  };
  for (const LiveForce& live : full->live) put(live.block, live.point, live.force);
  for (const ContactForce& c : state.forces.contacts) {
    const Joint& joint = assembly.joints[static_cast<std::size_t>(c.joint)];
    const double n = c.force.dot(joint.frame.z);
    const double t = (c.force - n * joint.frame.z).norm();
    EXPECT_LE(t, joint.friction * n + 1e-6 * weight_most);
    put(joint.b, c.point, c.force);
    put(joint.a, c.point, -c.force);
  }
  for (std::size_t b = 0; b < assembly.blocks.size(); ++b) {
    if (assembly.blocks[b].fixed) continue;
    EXPECT_LT(force[b].norm(), 1e-6 * weight_most) << assembly.blocks[b].id;
    EXPECT_LT(moment[b].norm(), 1e-6 * weight_most) << assembly.blocks[b].id;
  }
}

}  // namespace
}  // namespace skewback
