// Gaps of finite turns, against corners moved one by one.
#include "survey/turning.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "assembly/sample_arch.hpp"

namespace skewback {
namespace {

/// What blocks carry moves the points that they turn about.
Assembly arch_with_a_walk() {
  Assembly arch = sample::arch_assembly({});
  for (Block& block : arch.blocks)
    if (!block.fixed) block.carried.push_back({300, block.mass.centroid + Vec3(0.1, 0, 0.5)});
  return arch;
}

/// All blocks turned as one body about the origin: no joint opens. Linear rows say otherwise by the
/// square of the turn, and the turning takes just that back.
TEST(Turning, OfOneBodyTakesBackWhatLinearRowsSay) {
  const Assembly arch = arch_with_a_walk();
  const StackModel model(arch);
  const Vec3 turn(0, 0.05, 0);
  const Rigid whole = rigid({Vec3::Zero(), turn}, Vec3::Zero());
  std::vector<SmallMove> moves;
  for (const Block& block : arch.blocks)
    moves.push_back({whole(centre_of_gravity(block)) - centre_of_gravity(block), turn});
  const std::vector<JointLie> linear = lies(model, as_drawn(arch, 2), moves);
  const auto turning = gaps_of_turning(model, moves);
  double most = 0;
  for (std::size_t j = 0; j < turning.size(); ++j)
    for (std::size_t k = 0; k < 4; ++k) {
      EXPECT_NEAR(linear[j].gap_m[k] + turning[j][k], 0, 1e-14);
      most = std::max(most, std::abs(turning[j][k]));
    }
  EXPECT_GT(most, 1e-4) << "0.05^2 / 2 of some decimetres";
}

/// By how much gaps are off those of corners moved one by one, along the mean of the beds' normals.
double off_m(const Assembly& arch, const StackModel& model, const Stack& stack) {
  double most = 0;
  for (std::size_t j = 0; j < arch.joints.size(); ++j) {
    const auto pose = [&](int i) {
      const auto b = static_cast<std::size_t>(i);
      return rigid(stack.moves[b], centre_of_gravity(arch.blocks[b]));
    };
    const Joint& joint = arch.joints[j];
    const Rigid a = pose(joint.a), b = pose(joint.b);
    const Vec3 normal = (a.R * joint.frame.z + b.R * joint.frame.z).normalized();
    for (std::size_t k = 0; k < 4; ++k) {
      const Vec3 at = joint.frame.to_world(model.corners()[j][k]);
      most = std::max(most, std::abs(normal.dot(b(at) - a(at)) - stack.joints[j].gap_m[k]));
    }
  }
  return most;
}

/// A footing 20 mm out and turned by over a degree: every block turns by about as much.
TEST(Turning, TakenInRoundsGivesGapsAsTheyAre) {
  const Assembly arch = arch_with_a_walk();
  const StackModel model(arch);
  AsMade made = as_drawn(arch, 2);
  made.supports[1] = rigid({{0.02, 0, 0}, {0, 0.02, 0}}, {3, 0, 0});
  Stack stack = stack_up(model, made, {});
  EXPECT_GT(off_m(arch, model, stack), 5e-5);
  for (int round = 0; round < 4; ++round) {
    made.turning_m = gaps_of_turning(model, stack.moves);
    stack = stack_up(model, made, {});
  }
  EXPECT_LT(most_apart(made.turning_m, gaps_of_turning(model, stack.moves)), 1e-6);
  EXPECT_LT(off_m(arch, model, stack), 1e-6);
}

TEST(Turning, MostApartCountsAnEmptyListAsZeros) {
  EXPECT_EQ(most_apart({}, {}), 0);
  EXPECT_EQ(most_apart({}, {{0, -2, 1, 0}}), 2);
  EXPECT_EQ(most_apart({{0, 1, 0, 0}}, {{0, -2, 1, 0}}), 3);
}

}  // namespace
}  // namespace skewback
