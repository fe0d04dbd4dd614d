// Motion of a single block against closed forms and Housner's rocking block.

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "motion/motion.hpp"
#include "motion_blocks.hpp"

namespace skewback {
namespace {

MotionOptions undamped(double step_share) {
  MotionOptions options;
  options.damping = Damping::kNone;
  options.step_share = step_share;
  options.frames = 0;
  return options;
}

// Closed form: sag m g / k, k = kn A; 1150 kg on 2e9 N/m.
TEST(PublishedMotion, SagOfOneBlock) {
  const Assembly assembly = on_floor({});
  MotionRun run(assembly, weight_at(0));
  const double from = run.pose(1).centre.z();
  const Motion motion = run.go();
  ASSERT_EQ(motion.ending, Ending::kAtRest) << motion.reason;
  EXPECT_NEAR((from - run.pose(1).centre.z()) / 5.64075e-6, 1, 1e-3);
  EXPECT_NEAR(motion.joints[0].normal_n / (1150 * kGravity), 1, 1e-3);
}

// Closed form: 1 / (2 pi) sqrt(k / m), counted over 200 swings about the sag. Steps of 1/40 of the
// longest: central differences then swing 1/9600 too fast.
TEST(PublishedMotion, FrequencyOfOneBlock) {
  const double sag = 1150 * kGravity / 2e9;
  MotionRun run(on_floor({}), weight_at(0), {}, undamped(0.025));
  const double from = run.pose(1).centre.z();
  double before = sag, time = 0;  // height over the sag
  std::vector<double> upward;
  while (upward.size() < 201) {
    const Motion motion = run.go_for(1e-9);  // one step
    const double now = run.pose(1).centre.z() - from + sag;
    if (before < 0 && now >= 0) upward.push_back(time + motion.step_s * before / (before - now));
    before = now;
    time = motion.time_s;
    ASSERT_LT(time, 2);
  }
  EXPECT_NEAR(200 / (upward.back() - upward.front()) / 209.887, 1, 1e-3);
}

// Closed form: 2 / omega, of the movement straight down; springs along the joint are made weak so
// that no rocking is quicker (of kn alone: 1 / (1 + (h/b)^2) of its square).
TEST(PublishedMotion, LongestStepOfOneBlock) {
  OnFloor what;
  what.ks = 1e-3 * what.kn;
  EXPECT_NEAR(MotionRun(on_floor(what), weight_at(0)).stable_step_s() / 1.516575e-3, 1, 1e-3);
}

// The same, as it shows: a thousandth of the sag off balance, a swing stays small just under that
// step and grows just over it.
TEST(PublishedMotion, JustOverTheLongestStepItGrows) {
  OnFloor what;
  what.ks = 1e-3 * what.kn;
  const double sag = 1150 * kGravity / 2e9;
  for (const double share : {0.995, 1.005}) {
    MotionRun run(on_floor(what), weight_at(0), {}, undamped(share));
    const double z = run.pose(1).centre.z();
    run.place(1, {Vec3(0, 0, z - 1.001 * sag), Eigen::Quaterniond::Identity()});
    (void)run.go_for(0.2);
    const double off = std::abs(run.pose(1).centre.z() - z + sag) / sag;
    if (share < 1) {
      EXPECT_LT(off, 0.02);
    } else {
      EXPECT_GT(off, 1);
    }
  }
}

// Closed form: damping that lessens a force that speeds its block up by a share and adds as much to
// one that slows it down is stable up to the step of springs 1 + share times as stiff.
TEST(PublishedMotion, SettlingKeepsToASmallerStep) {
  for (const double settling : {0.5, 0.7, 0.8}) {
    MotionOptions options;
    options.settling = settling;
    MotionRun run(on_floor({}), weight_at(0), {}, options);
    const Motion motion = run.go();
    EXPECT_EQ(motion.ending, Ending::kAtRest);
    EXPECT_LT(motion.step_s, run.stable_step_s() / std::sqrt(1 + settling));
  }
}

// Closed form: g (sin a - mu cos a), on a slope of 35 degrees with mu 0.5; from the places at three
// times, so that how it got going does not come in.
TEST(PublishedMotion, SlidesDownASlope) {
  OnFloor what;
  what.friction = 0.5;
  MotionRun run(on_floor(what), weight_at(35 * kPi / 180), {}, undamped(0.5));
  double time[3], x[3];
  for (int k = 0; k < 3; ++k) {
    time[k] = run.go_for(0.5).time_s;
    x[k] = run.pose(1).centre.x();
  }
  const double early = (x[1] - x[0]) / (time[1] - time[0]),
               late = (x[2] - x[1]) / (time[2] - time[1]);
  EXPECT_NEAR(2 * (late - early) / (time[2] - time[0]) / 1.608844, 1, 1e-3);
}

// Closed form: holds while tan a < mu.
TEST(PublishedMotion, HoldsOnAGentlerSlope) {
  OnFloor what;
  what.friction = 0.5;
  for (const double share : {0.99, 1.01}) {
    const Motion motion = let_go(on_floor(what), weight_at(std::atan(share * 0.5)));
    EXPECT_EQ(motion.ending, share < 1 ? Ending::kAtRest : Ending::kMovingOff) << motion.reason;
  }
}

// Closed form: v^2 / (2 mu g), on the flat.
TEST(PublishedMotion, StopsByFriction) {
  MotionRun run(on_floor({}), weight_at(0), {}, undamped(0.5));
  run.set_velocity(1, {2, 0, 0}, Vec3::Zero());
  const double from = run.pose(1).centre.x();
  const Motion motion = run.go_for(0.6);
  EXPECT_NEAR((run.pose(1).centre.x() - from) / 0.339789, 1, 5e-3);
  // all that it came with, rubbed away
  EXPECT_NEAR(motion.energy.rubbed / (0.5 * 1150 * 4), 1, 5e-3);
}

}  // namespace
}  // namespace skewback
