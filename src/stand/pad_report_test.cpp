// What a state of the pads says of each joint, by hand.
#include <gtest/gtest.h>

#include "assembly/assembly.hpp"
#include "stand/pads.hpp"

namespace skewback {
namespace {

constexpr double kG = 9.81, kKn = 1e9;

/// Stones of 1 m by 0.6 m, each a metre high or a pebble, 2000 kg/m3, on pads of no thickness to
/// speak of; the ground first.
Assembly pile(const std::vector<double>& heights, double friction) {
  Assembly assembly;
  double z = 0;
  const auto add = [&](double height, bool fixed) {
    Block block;
    block.id = fixed ? "ground" : "s" + std::to_string(assembly.blocks.size());
    block.solid = box({-0.5, -0.3, z}, {0.5, 0.3, z + height});
    block.density = 2000;
    block.fixed = fixed;
    assembly.blocks.push_back(block);
    z += height;
  };
  add(1, true);
  for (const double height : heights) {
    Joint joint;
    joint.a = static_cast<int>(assembly.blocks.size()) - 1;
    joint.b = joint.a + 1;
    joint.frame = {{0, 0, z}, Vec3::UnitX(), Vec3::UnitY(), Vec3::UnitZ()};
    joint.contact = {{{{-0.5, -0.3}, {0.5, -0.3}, {0.5, 0.3}, {-0.5, 0.3}}, {}}};
    joint.pad = Pad{0.01, kKn, 1e8};
    joint.friction = friction;
    assembly.joints.push_back(joint);
    add(height, false);
  }
  LoadCase load;
  load.id = "load";
  assembly.cases = {load};
  measure(assembly);
  return assembly;
}

PadState solved(const Assembly& assembly) {
  return PadModel(assembly, {}).solve(assembly.cases[0], {});
}

double weight_n(double height) { return 2000 * 0.6 * height * kG; }

// N at e = 0.3 m off the middle of a bed of 1 m that takes no pull: it bears on 3 (0.5 - 0.3) m,
// with 2 N over that at the edge, and opens by as much as the rest of the line goes up.
TEST(PadReport, AnOpenJointSaysHowFarAndHowMuchOfIt) {
  Assembly assembly = pile({1, 1}, 0.6);
  const double w = weight_n(1);
  // on the upper stone: w of its own in the middle, 1.5 w at 0.5 m; below 2 w and 1.5 w
  assembly.cases[0].live = {{2, {0.5, 0, 3}, {0, 0, -1.5 * w}}};
  const PadState state = solved(assembly);
  ASSERT_TRUE(state.found) << state.reason;
  const double n = 2.5 * w, bears = 3 * (0.5 - 0.75 * w / n);
  const double peak = 2 * n / (bears * 0.6);
  const JointPad& upper = state.joints[1];
  EXPECT_NEAR(upper.normal_n, n, 1e-6 * n);
  EXPECT_NEAR(upper.closed_share, bears, 0.06);
  EXPECT_NEAR(upper.peak_pa, peak, 0.1 * peak);
  EXPECT_GT(upper.peak_at.x(), 0.4);
  EXPECT_NEAR(upper.opening_max_m, peak / kKn * (1 - bears) / bears, 0.15 * peak / kKn);
  EXPECT_EQ(state.opening_joint, 1);
  EXPECT_EQ(state.opening_max_m, upper.opening_max_m);
  EXPECT_EQ(state.peak_joint, 1);
}

// Pressure p (1 + 1.6 x), shear even until it is what friction holds at x = -0.1: where less
// presses it slips. Of the normal force 0.4 (0.2 + 0.84) / 2 = 0.208 is there; the shear is
// mu (0.208 + 0.6 * 0.84) = 0.712 mu N, 0.1333 / (0.712 mu) above the bed.
TEST(PadReport, ItSlipsWhereLittlePresses) {
  const double mu = 0.5, w = weight_n(1), push = 0.712 * mu * w;
  Assembly assembly = pile({1}, mu);
  assembly.cases[0].live = {{1, {0, 0, 1 + 0.4 / 3 / (0.712 * mu)}, {push, 0, 0}}};
  const PadState state = solved(assembly);
  ASSERT_TRUE(state.found) << state.reason;
  EXPECT_NEAR(state.joints[0].shear_n, push, 1e-4 * push);
  EXPECT_NEAR(state.joints[0].closed_share, 1, 1e-9);
  EXPECT_NEAR(state.joints[0].slipping_share, 0.208, 0.05);
}

// The greatest share of shear to normal force, but not of a joint that carries next to nothing.
TEST(PadReport, FrictionUsedIsThatOfTheJointThatUsesMost) {
  Assembly assembly = pile({1, 1, 0.005}, 0.6);
  const double w = weight_n(1), pebble = weight_n(0.005);
  assembly.cases[0].live = {{2, {0, 0, 2}, {0.3 * w, 0, 0}}, {3, {0, 0, 3}, {0.5 * pebble, 0, 0}}};
  const PadState state = solved(assembly);
  ASSERT_TRUE(state.found) << state.reason;
  EXPECT_EQ(state.friction_joint, 1);
  EXPECT_NEAR(state.friction_used, (0.3 * w + 0.5 * pebble) / (w + pebble), 1e-5);
}

// A foot that is turned about a point takes what stands on it along.
TEST(PadReport, AFootThatIsTurnedTurnsAboutItsPoint) {
  const Assembly assembly = pile({1}, 0.6);
  PadOptions pads;
  BlockMove move;
  move.block = 0;
  move.shift = {0.001, 0, 0.002};
  move.turn = {0, 0, 0.003};
  move.about = {0.5, 0.25, 0};
  pads.moves = {move};
  const PadState state = PadModel(assembly, {}).solve(assembly.cases[0], pads);
  ASSERT_TRUE(state.found) << state.reason;
  const BlockVelocity& foot = state.moves[0];
  EXPECT_LT((foot.v + foot.w.cross(move.about) - move.shift).norm(), 1e-12);
  const Vec3 p(-0.5, 0.25, 1);  // a metre west of it: south by a metre times the turn
  EXPECT_LT((foot.v + foot.w.cross(p) - Vec3(0.001, -0.003, 0.002)).norm(), 1e-12);
}

}  // namespace
}  // namespace skewback
