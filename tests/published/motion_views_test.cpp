// What the views say of the same blocks: limit analysis, pads, and motion in time. They share the
// contacts and no solver.

#include "motion_views.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "assembly/sample_arch.hpp"
#include "assembly/sample_tripod.hpp"
#include "motion/motion.hpp"
#include "motion_arches.hpp"
#include "stand/stand.hpp"

namespace skewback {
namespace {

// Limit analysis (Heyman 1966) knows rigid blocks: joints are stiff here, and loads well away from
// its limit; with friction of 0.6 and more hinges govern.
TEST(PublishedMotion, RandomArchesAwayFromTheLimit) {
  int arches = 0;
  for (unsigned seed = 1; arches < 36; ++seed) {
    const RandomArch made = random_arch(seed, 1e11);
    const CaseProof limit = limit_load(made.arch, made.load);
    if (!limit.load_factor || limit.at_cap) continue;
    ++arches;
    for (const double share : {0.7, 1.4}) {
      Scene scene;
      scene.load_factor = share * *limit.load_factor;
      MotionOptions options;
      options.frames = 0;
      const Motion motion = let_go(made.arch, made.load, scene, options);
      EXPECT_EQ(motion.ending, share < 1 ? Ending::kAtRest : Ending::kMovingOff)
          << "seed " << seed << ", " << share << " of the limit: " << motion.reason;
    }
  }
}

// Static equilibrium on the same pads (docs/theory/pads.md): the greatest force across a joint to
// 1 %, where pads slip nowhere in either.
TEST(PublishedMotion, SettlesToWhatThePadsSay) {
  for (const double thickness : {0.45, 0.6, 0.9}) {
    sample::Arch shape;
    shape.voussoirs = 11;
    shape.thickness = thickness;
    const Assembly arch = sample::arch_assembly(shape);
    const ViewsApart apart = views_apart(arch, arch.cases[0]);
    EXPECT_EQ(apart.ending, Ending::kAtRest);
    EXPECT_LE(std::abs(apart.greatest), 0.01) << thickness;
    EXPECT_LE(apart.worst, 0.01) << thickness;
  }
  for (const double pad : {0.0, 0.008}) {
    sample::Tripod shape;
    shape.pad = pad;
    const Assembly tripod = sample::tripod_assembly(shape);
    const ViewsApart apart = views_apart(tripod, tripod.cases[0]);
    EXPECT_EQ(apart.ending, Ending::kAtRest);
    EXPECT_LE(std::abs(apart.greatest), 0.01) << pad;
    EXPECT_LE(apart.worst, 0.01) << pad;
  }
}

}  // namespace
}  // namespace skewback
