// Contacts found again as blocks move: what has slid, what falls on something else.
#include <gtest/gtest.h>

#include <cmath>

#include "base/constants.hpp"
#include "motion/motion.hpp"

namespace skewback {
namespace {

Block block(const std::string& id, const Vec3& low, const Vec3& high, bool fixed = false) {
  Block b;
  b.id = id;
  b.solid = box(low, high);
  b.density = 2000;
  b.fixed = fixed;
  return b;
}

/// A table 4 m long with its top at 0, and cubes of 1 m on it, one on another.
Assembly tower(int cubes, double friction) {
  Assembly assembly;
  assembly.blocks.push_back(block("table", {-1, -1, -0.5}, {3, 1, 0}, true));
  for (int i = 0; i < cubes; ++i)
    assembly.blocks.push_back(
        block("c" + std::to_string(i + 1), {-0.5, -0.5, 1.0 * i}, {0.5, 0.5, i + 1.0}));
  assembly.cases.push_back({"dead", {0, 0, -kGravity}, {}, Vec3::Zero()});
  measure(assembly);
  assembly.joints = detect_joints(assembly.blocks, friction);
  return assembly;
}

TEST(FindAgain, ABlockThatSlidesKeepsItsWholeFootUntilTheEdge) {
  const Assembly assembly = tower(1, 0.1);
  MotionOptions options;
  options.damping = Damping::kRocking;
  MotionRun run(assembly, assembly.cases[0], {}, options);
  (void)run.go_for(0.2);
  run.set_velocity(1, {2, 0, 0}, Vec3::Zero());
  const Motion m = run.go_for(1);
  // v2 / (2 mu g) would be 2.04 m; after 1 s: v t - mu g t2 / 2
  const double gone = 2 - 0.1 * kGravity / 2;
  EXPECT_NEAR(run.pose(1).centre.x(), gone, 0.02 * gone);
  EXPECT_GT(m.found_again, 20);
  EXPECT_NEAR(run.pose(1).centre.z(), 0.5, 1e-3);
  EXPECT_NEAR(m.joints[0].normal_n, 2000 * kGravity, 0.1 * 2000 * kGravity);
  EXPECT_LT(m.energy.error, 0.01);
}

TEST(FindAgain, ABlockPushedOverTheEdgeTips) {
  const Assembly assembly = tower(1, 0.05);
  MotionOptions options;
  options.damping = Damping::kRocking;
  options.time_most_s = 5;
  options.far_m = 20;
  MotionRun run(assembly, assembly.cases[0], {}, options);
  run.set_velocity(1, {3, 0, 0}, Vec3::Zero());
  const Motion m = run.go_for(2);
  EXPECT_LT(run.pose(1).centre.z(), 0);
  EXPECT_GT(run.pose(1).centre.x(), 3);
  EXPECT_GT(m.turned_max_rad, 0.1) << "it goes over the edge nose down";
}

TEST(FindAgain, WhatLosesItsSupportFallsOnWhatIsBelow) {
  Assembly assembly = tower(3, 0.6);
  Scene scene;
  scene.removals.push_back({2, 0.1});
  MotionOptions options;
  options.damping = Damping::kRocking;
  options.far_m = 5;
  MotionRun run(assembly, assembly.cases[0], scene, options);
  const Motion falls = run.go_for(0.4);
  EXPECT_NEAR(run.pose(3).centre.z(), 2.5 - kGravity * 0.09 / 2, 0.01);
  EXPECT_EQ(falls.new_contacts, 0);
  const Motion lies = run.go_for(2);
  EXPECT_GT(lies.new_contacts, 0);
  EXPECT_NEAR(run.pose(3).centre.z(), 1.5, 1e-3) << "on the lowest cube";
  EXPECT_LT(lies.speed_max, 1e-3);
  EXPECT_LT(lies.energy.error, 0.01);
}

TEST(FindAgain, FacesThatMeetAtAnAnglePushToo) {
  // a cube dropped on a corner of its face: turned, it strikes the table with an edge
  Assembly assembly = tower(1, 0.6);
  assembly.blocks[1].solid =
      moved(assembly.blocks[1].solid,
            {Eigen::AngleAxisd(0.5, Vec3::UnitY()).toRotationMatrix(), Vec3(0, 0, 0.5)});
  measure(assembly);
  assembly.joints.clear();
  MotionOptions options;
  options.damping = Damping::kRocking;
  options.far_m = 5;
  options.time_most_s = 6;
  const Motion m = MotionRun(assembly, assembly.cases[0], {}, options).go();
  EXPECT_EQ(m.ending, Ending::kAtRest) << m.reason;
  EXPECT_GT(m.new_contacts, 0);
  const BlockPose& last = m.frames.back().blocks[1];
  EXPECT_NEAR(last.centre.z(), 0.5, 5e-3);
}

/// A cube turned by `angle` about its lower edge x = 0.5, let go from there.
MotionRun leaning(const Assembly& assembly, double angle, double lifted = 0) {
  MotionOptions options;
  options.damping = Damping::kNone;
  MotionRun run(assembly, assembly.cases[0], {}, options);
  const Mat3 R = Eigen::AngleAxisd(angle, Vec3::UnitY()).toRotationMatrix();
  const Vec3 edge(0.5, 0, 0);
  run.place(1,
            {edge + R * (Vec3(0, 0, 0.5) - edge) + lifted * Vec3::UnitZ(), Eigen::Quaterniond(R)});
  return run;
}

TEST(FindAgain, ABlockThatTurnsAboutAnEdgeDoesNotSlideThere) {
  const Assembly assembly = tower(1, 0.8);
  MotionRun run = leaning(assembly, 0.35);
  const Motion m = run.go_for(0.15);
  EXPECT_EQ(m.found_again, 0);
  EXPECT_LT(m.joints[0].slid_m, 2e-3);
  EXPECT_GT(run.turning(1).norm(), 0.2) << "it goes";
}

TEST(FindAgain, ABlockThatHopsOffItsEdgeComesDownOnIt) {
  const Assembly assembly = tower(1, 0.8);
  MotionRun run = leaning(assembly, 0.35, 0.005);  // falls 5 mm, nothing presses till then
  const Motion m = run.go_for(0.1);
  EXPECT_EQ(m.found_again, 0);
  EXPECT_LT(m.energy.error, 0.01);
  run.set_velocity(1, {1, 0, 1}, Vec3::Zero());  // now it hops along
  const Motion there = run.go_for(0.6);
  EXPECT_GT(there.found_again + there.new_contacts, 0);
  EXPECT_GT(run.pose(1).centre.z(), 0.45);
}

TEST(FindAgain, NothingIsFoundAgainWhereNothingSlides) {
  const Assembly assembly = tower(3, 0.6);
  const Motion m = let_go(assembly, assembly.cases[0]);
  EXPECT_EQ(m.ending, Ending::kAtRest);
  EXPECT_EQ(m.found_again, 0);
  EXPECT_EQ(m.new_contacts, 0);
  EXPECT_NEAR(m.joints[0].normal_n, 3 * 2000 * kGravity, 10);
}

}  // namespace
}  // namespace skewback
