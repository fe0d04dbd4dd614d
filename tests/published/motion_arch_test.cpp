// Arches in motion: springings that spread, ground that shakes, and what the pads say.

#include <gtest/gtest.h>

#include <cmath>

#include "motion/motion.hpp"
#include "motion_arches.hpp"

namespace skewback {
namespace {

double thrust(const Motion& motion) {
  return (std::abs(motion.joints.front().force.x()) + std::abs(motion.joints.back().force.x())) / 2;
}

/// An arch of R 1 whose springings go apart; `spread` in shares of 2 R.
class Spreading {
 public:
  Spreading(double thickness, double kn, int voussoirs, double edge_share, double over_s)
      : right_(voussoirs + 1),
        over_s_(over_s),
        arch_(whole_arch({1, thickness, kPi, voussoirs, 3, 2000}, kn, 0.1)),
        run_(arch_, arch_.cases[0], {}, options_of(edge_share)) {
    (void)run_.go();
  }
  Motion to(double spread) {
    const Vec3 more = (spread - spread_) * Vec3::UnitX();
    spread_ = spread;
    run_.move_ground({.block = 0, .shift = more, .over_s = over_s_});
    run_.move_ground({.block = right_, .shift = -more, .over_s = over_s_});
    return run_.go();
  }

 private:
  static MotionOptions options_of(double edge_share) {
    MotionOptions options;
    options.frames = 0;
    options.edge_share = edge_share;
    options.steps_most = 200'000;
    return options;
  }
  int right_;
  double over_s_, spread_ = 0;
  Assembly arch_;
  MotionRun run_;
};

// Semicircle without tension, rigid, hinges only: it comes down at a spread over 2 R between what
// an independent computation gives with hinges that move (the less) and with hinges that stay (the
// more): 0.016 to 0.0182 at t/R 0.12. Thrust just before over the least thrust, as soon as hinges
// have formed: 1.09. Stiff joints, for softer ones let it come down sooner; moved little by little,
// so that hinges may move, and slowly (0.01 g). The thick arch: spread_test.cpp.
TEST(PublishedMotion, SpringingsOfAThinArchSpread) {
  Spreading arch(0.12, 3e11, 24, 1, 0.5);
  Motion motion;
  double first = 0;
  for (int k = 1; k <= 8; ++k) {
    motion = arch.to(0.002 * k);
    ASSERT_EQ(motion.ending, Ending::kAtRest) << k << ": " << motion.reason;
    if (k == 1) first = thrust(motion);
  }
  EXPECT_NEAR(thrust(motion) / first / 1.09, 1, 0.02);
  EXPECT_NE(arch.to(0.0182).ending, Ending::kAtRest);
}

// Oppenheim (1992), "The masonry arch as a four-link mechanism under base motion", Earthquake Eng.
// Struct. Dyn. 21, 1005-1017 (from memory), and an independent linear program: R 10, t 1.5, embrace
// 157.5 degrees, seven voussoirs begin to move at 0.370 g (straight-edged ones 0.3736 g). The
// ground is shaken ever harder, 0.003 g more each second; joints stiff.
TEST(PublishedMotion, ArchOnGroundThatShakesEverHarder) {
  const Assembly arch = whole_arch({10, 1.5, 157.5 * kPi / 180, 7, 3, 2000}, 1e11);
  MotionOptions options;
  options.damping = Damping::kRocking;
  options.frames = 0;
  Scene scene;
  scene.shaking.time_s = {2, 6, 26};
  scene.shaking.acceleration = {Vec3::Zero(), {0.34 * kGravity, 0, 0}, {0.40 * kGravity, 0, 0}};
  MotionRun run(arch, arch.cases[0], scene, options);
  Motion motion;
  while (motion.time_s < 26 && motion.turned_max_rad < 3e-3) motion = run.go_for(0.02);
  EXPECT_NEAR((0.34 + 0.003 * (motion.time_s - 6)) / 0.370, 1, 0.02);
}

// The same, held: loads of 0.98 of it and of 1.02.
TEST(PublishedMotion, ArchOnGroundThatIsHeldShaking) {
  const Assembly arch = whole_arch({10, 1.5, 157.5 * kPi / 180, 7, 3, 2000}, 1e11);
  for (const double share : {0.98, 1.02}) {
    LoadCase load = arch.cases[0];
    load.live_acceleration = {0.370 * share * kGravity, 0, 0};
    const Motion motion = let_go(arch, load);
    EXPECT_EQ(motion.ending, share < 1 ? Ending::kAtRest : Ending::kMovingOff) << motion.reason;
  }
}

}  // namespace
}  // namespace skewback
