// A free block that rocks from edge to edge, against Housner (1963), "The behavior of inverted
// pendulum structures during earthquakes", Bull. Seism. Soc. Am. 53(2), 403-417 (formulas from
// memory): I0 theta'' = -W R sin(alpha - theta) while it stands on one edge, I0 = 4/3 m R^2, and
// omega_after = (1 - 3/2 sin^2 alpha) omega_before when it comes down on the other.

#include <gtest/gtest.h>

#include <cmath>
#include <optional>
#include <vector>

#include "motion/motion.hpp"
#include "motion_blocks.hpp"

namespace skewback {
namespace {

struct Fall {
  double time_s = 0, speed = 0;
};

/// From rest at `from` to upright. theta'^2 = 2 p^2 (cos(alpha - from) - cos(alpha - theta)); the
/// time by Simpson's rule in u, theta = from (1 - u^2), which takes the root out.
Fall housner_fall(double alpha, double R, double from) {
  const double p2 = 3 * kGravity / (4 * R);
  const auto speed = [&](double theta) {
    return std::sqrt(2 * p2 * (std::cos(alpha - from) - std::cos(alpha - theta)));
  };
  const auto rate = [&](double u) {
    if (u == 0) return std::sqrt(2 * from / (p2 * std::sin(alpha - from)));
    return 2 * from * u / speed(from * (1 - u * u));
  };
  constexpr int kParts = 2000;
  double sum = rate(0) + rate(1);
  for (int i = 1; i < kParts; ++i)
    sum += (i % 2 == 1 ? 4 : 2) * rate(static_cast<double>(i) / kParts);
  return {sum / (3 * kParts), speed(0)};
}

/// Slice 5 cm deep. Housner lets the block down on its edge alone: `strip` is what of its bed,
/// along either edge, may touch (0: all).
struct Rocker {
  OnFloor what;
  double alpha, R;
};
Rocker rocker(double b, double h, double strip) {
  const double kn = strip > 0 ? 2e12 : 1e11;
  return {{b, 0.05, h, 2400, kn, 0.4 * kn, 0.7, strip}, std::atan(b / h), std::hypot(b, h) / 2};
}

MotionOptions rocking() {
  MotionOptions options;
  options.damping = Damping::kRocking;
  options.frames = 0;
  return options;
}

/// Turned by `angle` about its right edge.
BlockPose tilted(const Rocker& r, double angle) {
  const Vec3 corner(r.what.b / 2, 0, 0), centre(0, 0, r.what.h / 2);
  const Eigen::Quaterniond turn(Eigen::AngleAxisd(angle, Vec3::UnitY()));
  return {corner + turn * (centre - corner), turn};
}

struct Rocked {
  std::vector<double> time_s, before, after;  // of each impact: when, and how fast upright
  Motion last;
};

double angle_of(const MotionRun& run) {
  const Eigen::Quaterniond q = run.pose(1).turn;
  return 2 * std::atan2(q.y(), q.w());
}

/// An impact is where the angle changes its sign. Speeds are read just before, and after the edge
/// has hopped its last, and carried to the upright by Housner's first integral.
Rocked rock(const Rocker& r, std::size_t impacts, const MotionOptions& options = rocking()) {
  constexpr double kLook = 2.5e-4, kBefore = 0.01, kAfter = 0.06;
  const double p2 = 3 * kGravity / (4 * r.R);
  const auto upright = [&](double angle, double w) {
    return std::sqrt(w * w + 2 * p2 * (std::cos(r.alpha - std::abs(angle)) - std::cos(r.alpha)));
  };
  MotionRun run(on_floor(r.what), weight_at(0), {}, options);
  run.place(1, tilted(r, r.alpha / 2));
  Rocked rocked;
  std::vector<double> time{0}, angle{angle_of(run)}, speed{0};
  std::optional<double> read_at;
  while (rocked.after.size() < impacts && time.back() < 20) {
    rocked.last = run.go_for(kLook);
    const double now = angle_of(run), now_s = rocked.last.time_s, before = angle.back();
    if ((now > 0) != (before > 0)) {
      const double at = time.back() + (now_s - time.back()) * before / (before - now);
      std::size_t k = time.size() - 1;
      while (time[k] > at - kBefore) --k;
      rocked.time_s.push_back(at);
      rocked.before.push_back(upright(angle[k], speed[k]));
      read_at = at + kAfter;
    }
    time.push_back(now_s);
    angle.push_back(now);
    speed.push_back(run.turning(1).y());
    if (read_at && now_s >= *read_at) {
      rocked.after.push_back(upright(now, speed.back()));
      read_at.reset();
    }
  }
  return rocked;
}

const Rocker kBlocks[] = {rocker(0.4, 2, 0.004), rocker(0.6, 1.8, 0.004), rocker(0.4, 2, 0)};

// Housner's equation of the fall, by quadrature; 0.490864 s and 0.458240 rad/s for 0.4 x 2.0.
TEST(PublishedMotion, RockingBlockComesDownWhenHousnerSays) {
  for (const Rocker& r : kBlocks) {
    const Fall fall = housner_fall(r.alpha, r.R, r.alpha / 2);
    const Rocked rocked = rock(r, 1);
    ASSERT_EQ(rocked.after.size(), 1U);
    EXPECT_NEAR(rocked.time_s[0] / fall.time_s, 1, 5e-3);
    EXPECT_NEAR(rocked.before[0] / fall.speed, 1, 5e-3);
  }
}

double housner_ratio(const Rocker& r) { return 1 - 1.5 * std::pow(std::sin(r.alpha), 2); }

TEST(PublishedMotion, RockingBlockLosesWhatHousnerSays) {
  for (const Rocker& r : kBlocks) {
    if (r.what.strip == 0) continue;
    const Rocked rocked = rock(r, 3);
    ASSERT_EQ(rocked.after.size(), 3U);
    for (std::size_t i = 0; i < 3; ++i)
      EXPECT_NEAR(rocked.after[i] / rocked.before[i] / housner_ratio(r), 1, 1e-2);
  }
}

// Closed form, of the same balance of turning moments about the edge that the block goes on to, but
// with the blow at d from that edge: (1 - 3/2 s^2 + x) / (1 - x), x = m d b / (2 I0), s the sine of
// alpha. A bed flat all over is struck over all its width. Struck as fast as it comes near, d =
// b/3: (1 - s^2) / (1 - s^2 / 2); so it loses less than Housner's, and more than that.
TEST(PublishedMotion, ABedStruckAllOverLosesLess) {
  const Rocker& r = kBlocks[2];
  const Rocked rocked = rock(r, 1);
  ASSERT_EQ(rocked.after.size(), 1U);
  const double s2 = std::pow(std::sin(r.alpha), 2), ratio = rocked.after[0] / rocked.before[0];
  EXPECT_GT(ratio, housner_ratio(r));
  EXPECT_LT(ratio, (1 - s2) / (1 - s2 / 2));
}

// Conservation of energy, over ten impacts: of a bed struck all over, at the usual step; of edges,
// which strike at once with all they have, at a quarter of it.
TEST(PublishedMotion, RockingLedgerCloses) {
  for (const Rocker& r : kBlocks) {
    MotionOptions options = rocking();
    if (r.what.strip > 0) options.step_share /= 4;
    const Rocked rocked = rock(r, 10, options);
    ASSERT_EQ(rocked.after.size(), 10U);
    const EnergyLedger& e = rocked.last.energy;
    EXPECT_LE(e.error, 0.01);
    EXPECT_GT(e.dashed, 0);
  }
}

// What is missing from the ledger is of the steps, not of the books: shorter steps, less missing.
TEST(PublishedMotion, LedgerClosesAsStepsShorten) {
  MotionOptions coarse = rocking(), fine = rocking();
  fine.step_share = coarse.step_share / 8;
  EXPECT_LT(rock(kBlocks[1], 4, fine).last.energy.error,
            rock(kBlocks[1], 4, coarse).last.energy.error / 4);
}

// Closed form, of a spring and dashpot that push but never pull (Schwager and Poschel 2007,
// "Coefficient of restitution and linear-dashpot model revisited", Granular Matter 9, 465-469; from
// memory, worked out again): a share z of critical, struck without weight, sends back
// exp(-z/q (pi - atan2(2 z q, 1 - 2 z^2))), q^2 = 1 - z^2; 1: e^-2.
TEST(PublishedMotion, WhatADashpotSendsBack) {
  for (const double z : {0.2, 0.5, 0.8, 1.0}) {
    MotionOptions options = rocking();
    options.rocking = z;
    options.step_share = 0.02;
    LoadCase none;
    none.gravity = Vec3::Zero();
    MotionRun run(on_floor({}), none, {}, options);
    run.set_velocity(1, {0, 0, -0.1}, Vec3::Zero());
    (void)run.go_for(0.02);
    const double q = std::sqrt(1 - z * z);
    const double back =
        z < 1 ? std::exp(-z / q * (kPi - std::atan2(2 * z * q, 1 - 2 * z * z))) : std::exp(-2);
    EXPECT_NEAR(run.velocity(1).z() / 0.1, back, 5e-3) << z;
  }
}

}  // namespace
}  // namespace skewback
