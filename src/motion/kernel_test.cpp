// The same bits whatever the vector width and the number of threads.

#include <gtest/gtest.h>

#include <cstring>
#include <random>

#include "assembly/sample_arch.hpp"
#include "motion/motion.hpp"
#include "motion/touch.hpp"

namespace skewback {
namespace {

using motion::Touch;
using motion::TouchKernel;
using motion::TouchPoint;
using motion::TouchStep;

double between(std::mt19937& random, double low, double high) {
  return low + (high - low) * static_cast<double>(random()) / 4294967296.0;
}

Touch touch_of(std::mt19937& random, int points) {
  Touch touch;
  touch.kn = 1e9;
  touch.ks = 4e8;
  std::vector<TouchPoint> all;
  for (int i = 0; i < points; ++i) {
    const Vec2 p(between(random, -1, 1), between(random, -1, 1));
    all.push_back({{p.x(), p.y(), 0}, between(random, 0.001, 0.01), p});
  }
  put_points(touch, all);
  return touch;
}

/// b against a: some way in, turned a little, and going somewhere.
TouchStep step_of(std::mt19937& random, Touch& touch) {
  TouchStep s{};
  for (int c = 0; c < motion::kColumns; ++c) s.column[c] = touch.column(c);
  s.padded = touch.padded;
  const Eigen::Quaterniond turn(Eigen::AngleAxisd(
      1e-4, Vec3(between(random, -1, 1), between(random, -1, 1), 0.3).normalized()));
  const Mat3 R = turn.toRotationMatrix();
  for (int i = 0; i < 3; ++i) {
    for (int k = 0; k < 3; ++k) s.turn[3 * i + k] = R(i, k);
    s.shift[i] = between(random, -5e-5, 5e-5);
    s.v[i] = between(random, -0.1, 0.1);
    s.w[i] = between(random, -0.1, 0.1);
  }
  s.friction = 0.5;
  s.dash_s = 1e-3;
  s.step_s = 1e-4;
  return s;
}

template <std::size_t N>
void expect_same(const double (&x)[N], const double (&y)[N], const char* what) {
  EXPECT_EQ(std::memcmp(x, y, sizeof x), 0) << what;
}

void expect_same_bits(const TouchKernel& kernel, bool dashpots, int points) {
  std::mt19937 random(static_cast<unsigned>(points));
  Touch ours = touch_of(random, points);
  Touch theirs = ours;
  double rubbed = 0;
  for (int step = 0; step < 20; ++step) {
    TouchStep s = step_of(random, ours), t = s;
    for (int c = 0; c < motion::kColumns; ++c) t.column[c] = theirs.column(c);
    const TouchKernel& plain = *motion::touch_kernel_named("plain");
    (dashpots ? plain.dashpots : plain.springs)(s);
    (dashpots ? kernel.dashpots : kernel.springs)(t);
    expect_same(s.force, t.force, "force");
    expect_same(s.moment, t.moment, "moment");
    if (dashpots) {
      expect_same(s.dash_force, t.dash_force, "of dashpots");
      expect_same(s.dash_moment, t.dash_moment, "of dashpots");
    }
    EXPECT_EQ(std::memcmp(&s.strain, &t.strain, sizeof(double)), 0);
    EXPECT_EQ(std::memcmp(&s.rubbed, &t.rubbed, sizeof(double)), 0);
    EXPECT_EQ(std::memcmp(ours.data.data(), theirs.data.data(), ours.data.size() * sizeof(double)),
              0);
    rubbed += s.rubbed;
  }
  EXPECT_GT(rubbed, 0);  // so that friction was used up
}

TEST(MotionKernel, TheSameBitsAtEveryWidth) {
  int tried = 0;
  for (const char* name : {"avx2", "avx512"}) {
    const TouchKernel* kernel = motion::touch_kernel_named(name);
    if (kernel == nullptr) continue;
    ++tried;
    EXPECT_STREQ(kernel->name, name);
    for (const int points : {1, 7, 8, 9, 61, 300})
      for (const bool dashpots : {false, true}) expect_same_bits(*kernel, dashpots, points);
  }
  if (tried == 0) GTEST_SKIP() << "this machine has one width";
}

bool same_bits(const BlockPose& x, const BlockPose& y) {
  return std::memcmp(x.centre.data(), y.centre.data(), sizeof(double) * 3) == 0 &&
         std::memcmp(x.turn.coeffs().data(), y.turn.coeffs().data(), sizeof(double) * 4) == 0;
}

TEST(MotionKernel, TheSameBitsFromOneTwoAndThreeThreads) {
  sample::Arch shape;
  shape.voussoirs = 19;
  shape.thickness = 0.25;  // too thin: it moves, slips and opens
  const Assembly arch = sample::arch_assembly(shape);
  for (const Damping damping : {Damping::kSettling, Damping::kRocking}) {
    std::optional<Motion> one;
    for (const int threads : {1, 2, 3}) {
      MotionOptions options;
      options.damping = damping;
      options.edge_share = 0.12;
      options.threads = threads;
      MotionRun run(arch, arch.cases[0], {}, options);
      Motion motion = run.go_for(0.05);
      ASSERT_GT(motion.points, 3 * 2000);  // fewer are not shared out
      if (!one) {
        one = std::move(motion);
        EXPECT_GT(one->moved_max_m, 1e-5);
        continue;
      }
      ASSERT_EQ(one->frames.size(), motion.frames.size());
      for (std::size_t f = 0; f < one->frames.size(); ++f)
        for (std::size_t i = 0; i < arch.blocks.size(); ++i)
          EXPECT_TRUE(same_bits(one->frames[f].blocks[i], motion.frames[f].blocks[i])) << threads;
      EXPECT_EQ(one->energy.brought, motion.energy.brought);
      EXPECT_EQ(one->energy.dashed, motion.energy.dashed);
      EXPECT_EQ(one->energy.rubbed, motion.energy.rubbed);
    }
  }
}

}  // namespace
}  // namespace skewback
