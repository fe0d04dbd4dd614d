#include "access/gradients.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace skewback::access {
namespace {

Profile parabola(double span, double rise, double step) {
  Profile walk;
  const int n = static_cast<int>(span / step + 0.5);
  for (int i = 0; i <= n; ++i) {
    const double s = span * i / n;
    walk.s_m.push_back(s);
    walk.z_m.push_back(4 * rise * s * (span - s) / (span * span));
  }
  return walk;
}

/// Corners joined by straight pieces, with a station every 50 mm.
Profile pieces(const std::vector<Vec2>& corners) {
  Profile walk{{corners[0].x()}, {corners[0].y()}};
  for (std::size_t i = 1; i < corners.size(); ++i) {
    const Vec2 d = corners[i] - corners[i - 1];
    const int n = std::max(1, static_cast<int>(std::ceil(d.x() / 0.05)));
    for (int k = 1; k <= n; ++k) {
      const Vec2 p = corners[i - 1] + d * k / n;
      walk.s_m.push_back(p.x());
      walk.z_m.push_back(p.y());
    }
  }
  return walk;
}

// ADA 2010, 405.2 (1:12), 405.6 (rise of a run 760 mm), 405.7 (landings 1525 mm at the top, at the
// bottom and between): 0.9 / 0.76 -> 2 runs; 0.9 * 12 = 10.8 m; + 3 * 1.525 = 15.375 m. By hand.
TEST(RampPlan, NinetyCentimetresNeedTwoRunsAndThreeLandings) {
  AccessRequest access;
  access.landing_m = 1.525;
  const RampPlan plan = plan_ramp(0.9, access);
  EXPECT_EQ(plan.runs, 2);
  EXPECT_EQ(plan.landings, 3);
  EXPECT_NEAR(plan.run_m, 10.8, 1e-12);
  EXPECT_NEAR(plan.total_m, 15.375, 1e-12);
}

TEST(RampPlan, ARiseOfExactlyOneRunIsOneRun) {
  EXPECT_EQ(plan_ramp(0.76, {}).runs, 1);
  EXPECT_EQ(plan_ramp(0.7601, {}).runs, 2);
  EXPECT_EQ(plan_ramp(0, {}).landings, 0);
}

// Blondel 1675: 2R + G; riser 170, going 290 -> 630 mm.
TEST(Stair, OfRiser170AndGoing290HasAStrideOf630) {
  const auto stair = stair_over(5 * 0.17, 5 * 0.29);
  ASSERT_TRUE(stair);
  EXPECT_EQ(stair->risers, 5);
  EXPECT_NEAR(stair->stride_m, 0.63, 1e-12);
  EXPECT_TRUE(stair->comfortable);
}

// ADA 2010, 504.2: a rise of 0.54 m needs three risers of 180 mm and 3 * 280 mm of run.
TEST(Stair, NeedsRoomForItsTreads) {
  EXPECT_TRUE(stair_over(0.54, 0.84));
  EXPECT_FALSE(stair_over(0.54, 0.83));
  EXPECT_FALSE(stair_over(0.09, 1.0)) << "a riser under 100 mm trips";
}

// z = 4 f x (L - x) / L2 rises by 4 f (L - 0.6) / L2 of 0.6 m over the first 0.6 m; its end slope
// is 4 f / L = 0.16 for L 15 m and f 0.6 m.
TEST(Steepest, OfAParabolaIsItsChordAtTheEnd) {
  const Profile walk = parabola(15, 0.6, 0.05);
  const Steepest most = steepest(walk);
  EXPECT_NEAR(std::abs(most.gradient), 4 * 0.6 * (15 - 0.6) / (15 * 15), 1e-9);
  EXPECT_NEAR(std::abs(most.gradient), 4 * 0.6 / 15, 0.6 / 15 * 0.16 + 1e-9);
  EXPECT_GT(std::abs(most.gradient), 1.0 / 12);
}

// 4 f / L = 1:12 where f / L = 1 / 48: 14 m may rise 0.2917 m.
TEST(Steepest, OfAParabolaIsOneInTwelveAtAFortyEighthOfItsSpan) {
  EXPECT_LT(std::abs(steepest(parabola(14, 14.0 / 48, 0.05)).gradient), 1.0 / 12);
  EXPECT_GT(std::abs(steepest(parabola(14, 1.05 * 14.0 / 48, 0.05)).gradient), 1.0 / 12);
}

TEST(Steepest, DoesNotTakeABumpAtAJointForASlope) {
  // 5 mm up and down again within 20 mm: 1:4 there, under 1:100 over 0.6 m
  const Profile walk = pieces({{0, 0}, {2, 0}, {2.02, 0.005}, {2.04, 0}, {4, 0}});
  EXPECT_LT(std::abs(steepest(walk).gradient), 0.01);
}

TEST(Steps, AreTakenApartFromSlopes) {
  const Profile walk =
      pieces({{0, 0}, {2, 0}, {2.002, 0.15}, {2.3, 0.15}, {2.302, 0.30}, {5, 0.3}});
  const std::vector<Step> found = steps(walk);
  ASSERT_EQ(found.size(), 2U);
  EXPECT_NEAR(found[0].height_m, 0.15, 1e-9);
  EXPECT_NEAR(found[1].at_m - found[0].at_m, 0.30, 1e-9);
  EXPECT_NEAR(steepest(walk).gradient, 0, 1e-9) << "what is left is level";
}

TEST(Steepest, OfASteepBackIsASlopeNotAStep) {
  const Profile walk = pieces({{0, 0}, {3, 3.6}, {6, 3.6}});  // 120 %
  EXPECT_TRUE(steps(walk).empty());
  EXPECT_NEAR(steepest(walk).gradient, 1.2, 1e-9);
}

TEST(Rests, AreFoundToTheirEnds) {
  const Profile walk = pieces({{0, 0}, {6, 0.5}, {7.53, 0.5}, {12, 0.8725}});
  const std::vector<Stretch> level = rests(walk, 1.0 / 48, 1.5);
  ASSERT_EQ(level.size(), 1U);
  EXPECT_NEAR(level[0].from_m, 6, 1e-9);
  EXPECT_NEAR(level[0].to_m, 7.53, 1e-9);
  EXPECT_TRUE(rests(walk, 1.0 / 48, 1.6).empty());
}

TEST(Rests, ReachTheEndsOfTheWalk) {
  const Profile walk = pieces({{0, 0}, {1.52, 0}, {5, 0.3}, {6.6, 0.3}});
  const std::vector<Stretch> level = rests(walk, 1.0 / 48, 1.5);
  ASSERT_EQ(level.size(), 2U);
  EXPECT_NEAR(level[0].from_m, 0, 1e-9);
  EXPECT_NEAR(level[1].to_m, 6.6, 1e-9);
  EXPECT_NEAR(level[1].from_m, 5, 1e-9);
}

// ADA 2010, 405.6: two runs of 0.45 m with a landing between are two, without it one of 0.9 m.
TEST(RampRuns, EndAtLandings) {
  const AccessRequest access;
  const auto two = ramp_runs(pieces({{0, 0}, {5.4, 0.45}, {6.9, 0.45}, {12.3, 0.9}}), access);
  ASSERT_EQ(two.size(), 2U);
  EXPECT_NEAR(two[0].rise_m, 0.45, 1e-9);
  EXPECT_NEAR(two[1].rise_m, 0.45, 1e-9);
  const auto one = ramp_runs(pieces({{0, 0}, {5.4, 0.45}, {6.3, 0.45}, {11.7, 0.9}}), access);
  ASSERT_EQ(one.size(), 1U);
  EXPECT_NEAR(one[0].rise_m, 0.9, 1e-9);
}

// ADA 2010, 402.2: a walk no steeper than 1:20 is no ramp.
TEST(RampRuns, ThereAreNoneOnAGentleWalk) {
  EXPECT_TRUE(ramp_runs(pieces({{0, 0}, {30, 1.5}}), {}).empty());
  EXPECT_EQ(ramp_runs(pieces({{0, 0}, {30, 1.6}}), {}).size(), 1U);
}

// The parabola f (1 - 4 x2 / L2) is g steep at x = g L2 / (8 f); the tangent there, at slope g, is
// at f + g2 L2 / (16 f) - g L / 2 over the springing.
TEST(NoSteeper, LeavesAParabolaAlongItsTangent) {
  const double L = 12, f = 1.5, g = 0.2;
  const Profile gentle = no_steeper(parabola(L, f, 0.01), g);
  EXPECT_NEAR(gentle.z_m.front(), f + g * g * L * L / (16 * f) - g * L / 2, 1e-4);
  EXPECT_NEAR(gentle.at(L / 2), f, 1e-12);
}

// The slower truth: z(s) = max over t of z(t) - g |s - t|.
TEST(NoSteeper, IsTheLowestOverAnyWalk) {
  std::mt19937 random(20261);
  std::uniform_real_distribution<double> any(0, 1);
  double worst = 0;
  for (int trial = 0; trial < 50; ++trial) {
    Profile walk{{0}, {0}};
    for (int i = 0; i < 60; ++i) {
      walk.s_m.push_back(walk.s_m.back() + 0.01 + 0.2 * any(random));
      walk.z_m.push_back(any(random) * 0.5);
    }
    const double g = 0.02 + 0.5 * any(random);
    const Profile gentle = no_steeper(walk, g);
    for (std::size_t i = 0; i < walk.s_m.size(); ++i) {
      double truth = -1e300;
      for (std::size_t k = 0; k < walk.s_m.size(); ++k)
        truth = std::max(truth, walk.z_m[k] - g * std::abs(walk.s_m[k] - walk.s_m[i]));
      worst = std::max(worst, std::abs(gentle.z_m[i] - truth));
    }
  }
  EXPECT_LT(worst, 1e-12) << "seed 20261";
}

}  // namespace
}  // namespace skewback::access
