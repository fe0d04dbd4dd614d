// What counts as rest and what as moving off.
#include <gtest/gtest.h>

#include "base/constants.hpp"
#include "motion/motion.hpp"
#include "motion/sample_block.hpp"

namespace skewback {
namespace {

const LoadCase kDead{"dead", {0, 0, -kGravity}, {}, Vec3::Zero()};

MotionOptions rocking(double seconds) {
  MotionOptions options;
  options.damping = Damping::kRocking;
  options.time_most_s = seconds;
  return options;
}

// Eased over T, ground that goes 1 m is pushed by pi2 / (2 T2) at most; a block 0.2 m wide and 1 m
// high tips at 0.2 g = 1.96 m/s2. T 1 s: 4.93, it topples; T 4 s: 0.31, it goes along.
TEST(Looks, ABlockThatTopplesIsMovingOffAlthoughTheGroundWentFar) {
  const Assembly assembly = sample::block_on_ground(0.2, 0.8);
  Scene scene;
  scene.moves = {{0, {1, 0, 0}, Vec3::Zero(), Vec3::Zero(), 0.2, 1}};
  EXPECT_EQ(let_go(assembly, kDead, scene, rocking(6)).ending, Ending::kMovingOff);
  scene.moves[0].over_s = 4;
  const Motion along = let_go(assembly, kDead, scene, rocking(20));
  EXPECT_EQ(along.ending, Ending::kAtRest) << along.reason;
  EXPECT_NEAR(along.moved_max_m, 1, 0.01);
}

// The same beside ground that stays: a block may go as far as the ground does, but not turn over.
TEST(Looks, ABlockThatTopplesOnOneOfTwoGroundsIsMovingOff) {
  Assembly assembly = sample::block_on_ground(0.2, 0.8);
  Block other = assembly.blocks[0];
  other.id = "other";
  for (Vec3& v : other.solid.vertices) v.y() += 10;
  assembly.blocks.push_back(other);
  measure(assembly);
  Scene scene;
  scene.moves = {{0, {1, 0, 0}, Vec3::Zero(), Vec3::Zero(), 0.2, 1}};
  const Motion m = let_go(assembly, kDead, scene, rocking(6));
  EXPECT_EQ(m.ending, Ending::kMovingOff);
  EXPECT_NE(m.reason.find("turned over"), std::string::npos) << m.reason;
}

// Ground that goes 2 m as one in 1 s, at up to pi2 m/s2, leaves a block behind that friction can
// push at 0.1 g only: against the ground it has gone far.
TEST(Looks, ABlockLeftBehindByTheGroundIsMovingOff) {
  const Assembly assembly = sample::block_on_ground(1, 0.1);
  Scene scene;
  scene.moves = {{0, {2, 0, 0}, Vec3::Zero(), Vec3::Zero(), 0.2, 1}};
  EXPECT_EQ(let_go(assembly, kDead, scene, rocking(6)).ending, Ending::kMovingOff);
}

// Without friction nothing stops it, and nothing is out of balance.
TEST(Looks, ABlockThatSlidesOnIsNotAtRest) {
  const Assembly assembly = sample::block_on_ground(1, 0);
  MotionRun run(assembly, kDead, {}, rocking(1));
  (void)run.go_for(0.3);
  run.set_velocity(1, {0.08, 0, 0}, Vec3::Zero());
  const Motion m = run.go();
  EXPECT_EQ(m.ending, Ending::kNotSettled);
  EXPECT_NEAR(m.speed_max, 0.08, 1e-3);
}

TEST(Looks, NumbersOutOfAllMeasureAreNotRest) {
  const Assembly assembly = sample::block_on_ground(0.2, 0.8);
  Scene scene;
  scene.shaking.time_s = {0, 1};
  scene.shaking.acceleration = {{1e300, 0, 0}, {1e300, 0, 0}};
  EXPECT_NE(let_go(assembly, kDead, scene, rocking(2)).ending, Ending::kAtRest);
}

/// 480 kg on a block that is taken away: they fall 0.5 m.
Motion fallen(double step_share) {
  Assembly assembly;
  const auto add = [&](const char* id, const Vec3& low, const Vec3& high) {
    Block block;
    block.id = id;
    block.solid = box(low, high);
    block.density = 2400;
    block.fixed = assembly.blocks.empty();
    assembly.blocks.push_back(block);
  };
  add("ground", {-3, -2, -0.5}, {3, 2, 0});
  add("low", {-0.2, -0.5, 0}, {0.2, 0.5, 0.5});
  add("block", {-0.2, -0.5, 0.5}, {0.2, 0.5, 1});
  measure(assembly);
  assembly.joints = detect_joints(assembly.blocks, 0.6);
  Scene scene;
  scene.removals = {{1, 0.5}};
  MotionOptions options = rocking(6);
  options.step_share = step_share;
  options.far_m = 5;
  return let_go(assembly, kDead, scene, options);
}

// A blow: of m g h less than a hundredth is missed with the steps that scenes with removals have.
TEST(Looks, ABlowKeepsItsEnergyWithHalfSteps) {
  const Motion m = fallen(0.4);
  EXPECT_EQ(m.ending, Ending::kAtRest) << m.reason;
  EXPECT_NEAR(m.moved_max_m, 0.5, 1e-4);
  EXPECT_NEAR(m.energy.brought, 480 * kGravity * 0.5, 0.005 * 480 * kGravity * 0.5);
  EXPECT_LT(m.energy.error, 0.01);
}

TEST(Looks, AMotionThatMissesEnergyIsNoProofOfRest) {
  const Motion m = fallen(0.8);
  ASSERT_GT(m.energy.error, 0.01);
  EXPECT_EQ(m.ending, Ending::kNotSettled);
  EXPECT_NE(m.reason.find("energy"), std::string::npos) << m.reason;
}

}  // namespace
}  // namespace skewback
