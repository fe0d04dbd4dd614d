// The step that the engine allows itself is one that does not make energy.
#include <gtest/gtest.h>

#include "motion/motion.hpp"

namespace skewback {
namespace {

/// A column of cubes on the ground, without pads.
Assembly column(int cubes) {
  Assembly out;
  Block ground;
  ground.id = "ground";
  ground.solid = box({-1, -1, -1}, {2, 2, 0});
  ground.fixed = true;
  out.blocks.push_back(ground);
  for (int i = 0; i < cubes; ++i) {
    Block cube;
    cube.id = "b" + std::to_string(i + 1);
    cube.solid = box({0, 0, 1.0 * i}, {1, 1, 1.0 * i + 1});
    cube.density = 2400;
    out.blocks.push_back(cube);
  }
  measure(out);
  out.joints = detect_joints(out.blocks, 0.6);
  return out;
}

// Closed form: leap-frog on u'' = -w2 u is stable below a step of 2 / w (Hockney and Eastwood
// 1981; from memory). With Cundall's damping a force that slows is 1 + a times itself; in the
// shape that swings over at every step each force slows, so the bound is 2 / (w sqrt(1 + a)).
TEST(MotionStep, NearlyTheLongestStepComesToRest) {
  const Assembly stack = column(3);
  MotionOptions options;
  options.find_again = false;
  options.step_share = 0.97;
  options.steps_most = 20000;
  for (const double settling : {0.1, 0.5, 0.7, 0.9}) {
    options.settling = settling;
    MotionRun run(stack, LoadCase{}, {}, options);
    run.set_velocity(3, {0.001, 0.002, -0.001}, {0.01, 0, 0});
    const Motion m = run.go();
    EXPECT_EQ(m.ending, Ending::kAtRest) << settling << ": " << m.reason;
    EXPECT_NEAR(m.joints[0].normal_n, 3 * 2400 * 9.81, 3 * 2400 * 9.81 * 1e-3) << settling;
  }
}

// By hand: a load of 100 kg falls 0.5 m on a column, gives up what it fell for, and stays.
TEST(MotionStep, ADroppedLoadStaysAndBringsWhatItFellFor) {
  const Assembly stack = column(2);
  MotionOptions options;
  options.find_again = false;
  options.damping = Damping::kRocking;
  Drop drop;
  drop.block = 2;
  drop.point = {0.5, 0.5, 2};
  drop.mass_kg = 100;
  drop.height_m = 0.5;
  drop.at_s = 0.2;
  Scene scene;
  scene.drops = {drop};
  const Motion m = let_go(stack, LoadCase{}, scene, options);
  EXPECT_EQ(m.ending, Ending::kAtRest) << m.reason;
  EXPECT_NEAR(m.joints[0].normal_n, (2 * 2400 + 100) * 9.81, 10);
  EXPECT_NEAR(m.energy.brought, 100 * 9.81 * 0.5, 5);
  EXPECT_LT(m.energy.error, 0.01);
}

// By hand: what it stood on is taken away 0.1 s after the start; 0.2 s later it has fallen
// g / 2 x 0.2^2 = 196.2 mm. A look late by 50 steps would show.
TEST(MotionStep, ABlockIsTakenAwayAtItsTime) {
  Scene scene;
  scene.removals = {{1, 0.1}};
  MotionOptions options;
  options.find_again = false;
  options.damping = Damping::kNone;
  MotionRun run(column(2), LoadCase{}, scene, options);
  const Motion m = run.go_for(0.3);
  EXPECT_EQ(m.moved_block, 2);
  EXPECT_LT(m.step_s, 1e-3);
  EXPECT_NEAR(m.moved_max_m, 0.1962, 9.81 * 0.2 * 1.5 * m.step_s);
}

}  // namespace
}  // namespace skewback
