// View 3 against view 1 on the same arches: the load at which blocks move off, and the limit load.

#include <gtest/gtest.h>

#include "../published/ring.hpp"
#include "motion/collapse.hpp"
#include "stand/stand.hpp"

namespace skewback {
namespace {

/// A downward force at `share` of the way along the outside, from the right.
void put_point_load(Assembly& arch, const Ring& ring, int voussoir) {
  const double angle = (joint_angle(ring, voussoir - 1) + joint_angle(ring, voussoir)) / 2;
  const double r = (ring.radius + ring.thickness / 2) * std::cos(ring.embrace / ring.voussoirs / 2);
  arch.cases[0].live = {
      {voussoir, r * Vec3(std::cos(angle), 0, std::sin(angle)), Vec3(0, 0, -10000)}};
}

struct Compared {
  double limit = 0, held = 0, moved_off = 0;
};

/// With joints of `kn` Pa/m.
Compared compare(const Ring& ring, int voussoir, double kn) {
  Assembly arch = make_straight_arch(ring);
  put_point_load(arch, ring, voussoir);
  StandOptions far;
  far.load_factor_cap = 100;
  const CaseProof proof = limit_load(arch, arch.cases[0], far);
  MotionOptions options;
  options.dry_kn = kn;
  options.dry_ks = 0.4 * kn;
  options.frames = 0;
  options.far_m = 0.03;
  CollapseOptions wanted;
  wanted.most = 3 * proof.load_factor.value_or(1);
  wanted.first = 0.3 * proof.load_factor.value_or(1);
  const Collapse c = collapse_load(arch, arch.cases[0], {}, options, wanted);
  EXPECT_TRUE(c.found()) << in_words(c);
  ::testing::Test::RecordProperty(
      "t/R " + std::to_string(ring.thickness / ring.radius) + " kn " + std::to_string(kn) +
          " friction " + std::to_string(ring.friction),
      "limit " + std::to_string(proof.load_factor.value_or(-1)) + ", " + in_words(c));
  return {proof.load_factor.value_or(-1), c.held.value_or(-1), c.moved_off.value_or(-1)};
}

// Joints stiff enough that the arch moves by well under a thousandth of its depth before it goes:
// then both answer the same question.
TEST(MotionCollapse, WithoutSlidingTheLimitLoad) {
  for (const auto& [thickness, n] : {std::pair{0.15, 9}, {0.2, 7}}) {
    Ring ring;
    ring.radius = 3;
    ring.thickness = thickness * ring.radius;
    ring.voussoirs = n;
    const Compared c = compare(ring, 1 + n / 4, 1e12);
    EXPECT_LE(c.held, 1.001 * c.limit);
    EXPECT_GE(c.moved_off, 0.98 * c.limit);
    EXPECT_LE(c.moved_off, 1.02 * c.limit);
  }
}

// Joints that give let the arch flatten and its hinges lie inside the edges: less is carried.
TEST(MotionCollapse, JointsThatGiveCarryLess) {
  Ring ring;
  ring.radius = 3;
  ring.thickness = 0.45;
  ring.voussoirs = 9;
  const Compared stiff = compare(ring, 3, 1e11), soft = compare(ring, 3, 1e10);
  EXPECT_LT(soft.moved_off, stiff.held);
  EXPECT_LT(stiff.held, stiff.limit);
}

TEST(MotionCollapse, WithSlidingNoMoreThanTheLimitLoad) {
  for (const double friction : {0.4, 0.35}) {
    Ring ring;
    ring.radius = 3;
    ring.thickness = 0.9;
    ring.voussoirs = 9;
    ring.friction = friction;
    const Compared c = compare(ring, 3, 1e10);
    EXPECT_LE(c.held, c.limit);
    EXPECT_LE(c.moved_off, 1.011 * c.limit);
  }
}

}  // namespace
}  // namespace skewback
