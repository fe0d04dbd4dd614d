#include <gtest/gtest.h>

#include "base/constants.hpp"
#include "stand/prove_steps.hpp"

namespace skewback {
namespace {

/// A block on a level bed, friction 0.7.
Assembly block_on_a_bed() {
  Assembly assembly;
  for (const int i : {0, 1}) {
    Block block;
    block.id = i == 0 ? "ground" : "block";
    block.solid = box({-1, -1, i - 1.0}, {1, 1, i + 0.0});
    block.density = 2000;
    block.fixed = i == 0;
    assembly.blocks.push_back(block);
  }
  Joint joint;
  joint.a = 0;
  joint.b = 1;
  joint.friction = 0.7;
  joint.frame = {Vec3::Zero(), Vec3::UnitX(), Vec3::UnitY(), Vec3::UnitZ()};
  joint.contact = {{{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}}, {}}};
  assembly.joints.push_back(joint);
  measure(assembly);
  return assembly;
}

LoadCase tilted(const std::string& id, double slope) {
  LoadCase load;
  load.id = id;
  load.gravity = Vec3(slope * kGravity, 0, -kGravity);
  return load;
}

// A block on a bed needs the slope of what pulls it. What needs less than a case before it is not
// sought by halves.
TEST(MostFriction, IsTheSteepestSlope) {
  Assembly assembly = block_on_a_bed();
  assembly.cases = {tilted("a", 0.1), tilted("b", 0.3), tilted("c", 0.2), tilted("slides", 0.8)};
  std::vector<CaseProof> proofs = prove_without_friction(assembly);
  find_most_friction(assembly, {}, {}, proofs);
  ASSERT_TRUE(proofs[1].friction_needed.has_value());
  EXPECT_NEAR(*proofs[1].friction_needed, 0.3, 1e-3 * 0.3);
  EXPECT_FALSE(proofs[2].friction_needed.has_value());
  EXPECT_FALSE(proofs[3].friction_needed.has_value());  // it falls
}

TEST(MostFriction, NothingOfNoCases) {
  Assembly assembly = block_on_a_bed();
  std::vector<CaseProof> proofs;
  find_most_friction(assembly, {}, {}, proofs);
  EXPECT_TRUE(proofs.empty());
}

}  // namespace
}  // namespace skewback
