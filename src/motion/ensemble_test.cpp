#include "motion/ensemble.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "assembly/sample_arch.hpp"
#include "base/constants.hpp"
#include "base/parallel.hpp"

namespace skewback {
namespace {

constexpr double kSlope = 0.5;

/// Cubes side by side on one slab, with gravity leaning by kSlope along x; each on its own joint of
/// friction 1.
Assembly blocks_on_a_slope(int count) {
  Assembly assembly;
  assembly.blocks.resize(static_cast<std::size_t>(count) + 1);
  assembly.blocks[0].id = "slab";
  assembly.blocks[0].fixed = true;
  assembly.blocks[0].solid = box({-10, -1, -0.5}, {10, 2.0 * count + 1, 0});
  for (int i = 0; i < count; ++i) {
    Block& block = assembly.blocks[static_cast<std::size_t>(i) + 1];
    block.id = "b" + std::to_string(i + 1);
    block.solid = box({-0.5, 2.0 * i, 0}, {0.5, 2.0 * i + 1, 0.5});
  }
  for (Block& block : assembly.blocks) block.density = 2000;
  measure(assembly);
  assembly.joints = detect_joints(assembly.blocks, 1);
  LoadCase load;
  load.id = "slope";
  load.gravity = kGravity / std::hypot(1, kSlope) * Vec3(kSlope, 0, -1);
  assembly.cases.push_back(load);
  return assembly;
}

EnsembleOptions frictions(double low, double high, int draws) {
  EnsembleOptions wanted;
  wanted.draws = draws;
  wanted.friction = {low, high, false};
  wanted.stiffness = {1, 1, false};
  return wanted;
}

// Closed form: a block stays where its friction is over the slope. With friction even between 0.3
// and 0.8 it goes with probability (0.5 - 0.3) / 0.5 = 0.4.
TEST(Ensemble, ABlockOnASlopeGoesWhereItsFrictionIsUnderTheSlope) {
  const Assembly assembly = blocks_on_a_slope(1);
  const Ensemble e = let_go_many(assembly, assembly.cases[0], {}, {}, frictions(0.3, 0.8, 200));
  int under = 0;
  for (const OneDraw& d : e.draws) {
    if (std::abs(d.friction_least - kSlope) > 0.002) {
      EXPECT_EQ(d.ending, d.friction_least < kSlope ? Ending::kMovingOff : Ending::kAtRest)
          << "friction " << d.friction_least;
    }
    under += d.friction_least < kSlope ? 1 : 0;
  }
  EXPECT_NEAR(e.probability, under / 200.0, 0.01);
  EXPECT_LT(e.low, 0.4);
  EXPECT_GT(e.high, 0.4);
  EXPECT_EQ(e.at_rest + e.moving_off + e.not_settled, 200);
  // the first to go is the one with the least friction
  ASSERT_GE(e.worst, 0);
  for (const OneDraw& d : e.draws)
    EXPECT_GE(d.friction_least, e.draws[static_cast<std::size_t>(e.worst)].friction_least - 0.02);
}

// Two such blocks: one of them goes with 1 - 0.6 x 0.6 = 0.64; with one friction for both, 0.4.
TEST(Ensemble, EachJointIsDrawnByItself) {
  const Assembly assembly = blocks_on_a_slope(2);
  ASSERT_EQ(assembly.joints.size(), 2u);
  EnsembleOptions wanted = frictions(0.3, 0.8, 200);
  const Ensemble each = let_go_many(assembly, assembly.cases[0], {}, {}, wanted);
  EXPECT_LT(each.low, 0.64);
  EXPECT_GT(each.high, 0.64);
  EXPECT_GT(each.low, 0.4);
  wanted.friction.together = true;
  const Ensemble one = let_go_many(assembly, assembly.cases[0], {}, {}, wanted);
  EXPECT_LT(one.low, 0.4);
  EXPECT_GT(one.high, 0.4);
  EXPECT_LT(one.high, 0.64);
}

TEST(Ensemble, TheSameForAnyNumberOfThreads) {
  const Assembly arch = sample::arch_assembly({});
  EnsembleOptions wanted;
  wanted.draws = 12;
  wanted.gap_m = {0, 0.002, false};
  const auto run = [&](int threads) {
    const JobLimit limit(threads);
    return let_go_many(arch, arch.cases[0], {}, {}, wanted);
  };
  const Ensemble one = run(1), three = run(3);
  ASSERT_EQ(one.draws.size(), three.draws.size());
  for (std::size_t i = 0; i < one.draws.size(); ++i) {
    EXPECT_EQ(one.draws[i].ending, three.draws[i].ending);
    EXPECT_EQ(one.draws[i].moved_max_m, three.draws[i].moved_max_m);
    EXPECT_EQ(one.draws[i].time_s, three.draws[i].time_s);
  }
  EXPECT_EQ(one.worst, three.worst);
}

TEST(Ensemble, AnotherSeedDrawsOtherJoints) {
  const Assembly arch = sample::arch_assembly({});
  EnsembleOptions wanted;
  const DrawnScene first = drawn_scene(arch, {}, {}, wanted, 3);
  const DrawnScene again = drawn_scene(arch, {}, {}, wanted, 3);
  wanted.seed = 2;
  const DrawnScene other = drawn_scene(arch, {}, {}, wanted, 3);
  EXPECT_EQ(first.assembly.joints[1].friction, again.assembly.joints[1].friction);
  EXPECT_NE(first.assembly.joints[1].friction, other.assembly.joints[1].friction);
  EXPECT_NE(first.assembly.joints[1].friction, first.assembly.joints[2].friction);
}

// A block that begins open by a gap comes down by it, and by the sag of its joint: weight over
// stiffness (closed form).
TEST(Ensemble, AGapIsClosedByTheWeight) {
  Assembly assembly = blocks_on_a_slope(1);
  assembly.cases[0].gravity = {0, 0, -kGravity};
  EnsembleOptions wanted = frictions(1, 1, 1);
  wanted.gap_m = {0.003, 0.003, false};
  const Ensemble e = let_go_many(assembly, assembly.cases[0], {}, {}, wanted);
  ASSERT_EQ(e.at_rest, 1);
  const double sag = 2000 * 0.5 * kGravity / MotionOptions{}.dry_kn;  // of 1 m2
  EXPECT_NEAR(e.draws[0].moved_max_m, 0.003 + sag, 1e-9);
}

// Closed forms of Clopper and Pearson's interval: none of n leaves (1 - p)^n = tail, all of n
// p^n = tail; and each end makes what was seen, or more of it, as likely as its tail.
TEST(Ensemble, TheIntervalIsExact) {
  const double tail = 0.025;
  EXPECT_EQ(share_interval(0, 30).low, 0);
  EXPECT_NEAR(share_interval(0, 30).high, 1 - std::pow(tail, 1.0 / 30), 1e-12);
  EXPECT_NEAR(share_interval(30, 30).low, std::pow(tail, 1.0 / 30), 1e-12);
  EXPECT_EQ(share_interval(30, 30).high, 1);
  const auto binomial_up_to = [](int k, int n, double p) {
    double sum = 0;
    for (int i = 0; i <= k; ++i)
      sum += std::exp(std::lgamma(n + 1.0) - std::lgamma(i + 1.0) - std::lgamma(n - i + 1.0) +
                      i * std::log(p) + (n - i) * std::log1p(-p));
    return sum;
  };
  const Interval some = share_interval(7, 40);
  EXPECT_NEAR(binomial_up_to(7, 40, some.high), tail, 1e-10);
  EXPECT_NEAR(1 - binomial_up_to(6, 40, some.low), tail, 1e-10);
  EXPECT_EQ(share_interval(0, 0).high, 1);
}

}  // namespace
}  // namespace skewback
