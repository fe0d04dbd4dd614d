// A semicircle whose springings spread until it falls (checks E7).
#include <gtest/gtest.h>

#include <cmath>

#include "motion/reach.hpp"
#include "ring.hpp"

namespace skewback {
namespace {

/// Half of the arch on three hinges that stay where they first form: the crown at the extrados, the
/// haunch at the intrados where the thrust is least. Centreline radius 1, weight 1 per area.
class HingesThatStay {
 public:
  explicit HingesThatStay(double thickness) : inner_(1 - thickness / 2), outer_(1 + thickness / 2) {
    for (int i = 0; i <= 4000; ++i) {
      const double at = 0.3 + 1.2 * i / 4000;
      const Part top = part(0, at);
      const double thrust =
          top.weight * (inner_ * std::sin(at) - top.x) / (outer_ - inner_ * std::cos(at));
      if (thrust <= first_) continue;
      first_ = thrust;
      haunch_ = at;
    }
  }
  /// Horizontal thrust over the first when each springing has gone out by `each` radii.
  [[nodiscard]] double thrust(double each) const { return thrust_at(each) / first_; }
  [[nodiscard]] double first_over_weight() const { return first_ / (2 * part(0, kPi / 2).weight); }
  /// Until the thrust leaves the springing by the extrados.
  [[nodiscard]] double falls_at() const {
    const Part top = part(0, haunch_), low = part(haunch_, kPi / 2);
    const double x = inner_ * std::sin(haunch_), z = inner_ * std::cos(haunch_);
    double each = 0;
    while (thrust_at(each) * z < top.weight * (outer_ - x) + low.weight * (outer_ - low.x))
      each += 1e-6;
    return each;
  }

 private:
  struct Part {
    double weight, x, z;
  };
  [[nodiscard]] Part part(double from, double to) const {  // angles from the crown
    const double weight = (to - from) * (outer_ * outer_ - inner_ * inner_) / 2;
    const double arm = (std::pow(outer_, 3) - std::pow(inner_, 3)) / (3 * weight);
    return {weight, arm * (std::cos(from) - std::cos(to)), arm * (std::sin(to) - std::sin(from))};
  }
  [[nodiscard]] double thrust_at(double each) const {
    const Part top = part(0, haunch_);
    const double x = inner_ * std::sin(haunch_), z = inner_ * std::cos(haunch_);
    const double length = std::hypot(x, outer_ - z), slope = std::acos((x + each) / length);
    const double turned = std::atan2(outer_ - z, x) - slope;
    const double arm = (x - top.x) * std::cos(turned) + (top.z - z) * std::sin(turned);
    return top.weight * arm / (length * std::sin(slope));
  }
  double inner_, outer_, haunch_ = 0, first_ = 0;
};

// The closed form against B1 (least thrust, computed independently) and E7's upper figures.
TEST(SpreadSemicircle, HingesThatStayGiveTheUpperFigures) {
  EXPECT_NEAR(HingesThatStay(0.20).first_over_weight(), 0.15404, 1e-4);
  for (const auto& [thickness, spread, thrust] :
       {std::tuple{0.12, 0.0182, 1.09}, {0.20, 0.1347, 1.88}}) {
    const HingesThatStay hinges(thickness);
    EXPECT_NEAR(hinges.falls_at(), spread, 0.03 * spread);
    EXPECT_NEAR(hinges.thrust(hinges.falls_at()), thrust, 0.01 * thrust);
  }
}

struct Expected {
  double thickness, kn, low, high;  // spread over 2 R
};

// Source: computed independently for these checks: it falls between the spread of hinges that move
// and that of hinges that stay. On the way the thrust is the closed form's. One springing goes out
// by as much as both would together: the same but for where the arch is seen from.
TEST(SpreadSemicircle, FallsWithinTheBoundsAndThrustsAsTheClosedForm) {
  for (const Expected& e : {Expected{0.12, 1e11, 0.016, 0.0182}, {0.20, 3e10, 0.080, 0.1347}}) {
    Ring ring;
    ring.thickness = e.thickness;
    ring.voussoirs = 21;
    ring.friction = 2;
    const Assembly arch = make_straight_arch(ring);
    MotionOptions options;
    options.dry_kn = e.kn;  // of joints that hardly give
    options.dry_ks = 0.4 * e.kn;
    options.far_m = 0.05;
    MotionReachOptions wanted;
    wanted.ways = false;
    wanted.bearings = 1;  // east: the right springing outward
    wanted.only = {0};
    wanted.slow = 0.03;
    const MotionReaches reach = motion_reach(arch, arch.cases[0], {}, options, wanted);
    ASSERT_EQ(reach.ways.size(), 1U);
    const MotionReach& way = reach.ways[0];
    ASSERT_TRUE(way.moved_off);
    EXPECT_FALSE(way.not_settled);
    EXPECT_GE(*way.moved_off / 2, e.low);
    EXPECT_GE(way.held / 2, 0.99 * e.low);
    EXPECT_LE(way.held / 2, e.high);
    double weight = 0;
    for (const Block& block : arch.blocks) weight += block.fixed ? 0 : mass_kg(block) * kGravity;
    const HingesThatStay hinges(e.thickness);
    for (const ReachStep& step : way.path) {
      const double first = hinges.first_over_weight() * weight;
      if (step.gone < 0.2 * way.held) continue;  // hinges are still forming
      EXPECT_NEAR(step.thrust_n / first, hinges.thrust(step.gone / 2), 0.02);
    }
    RecordProperty("held_moved_off_" + std::to_string(e.thickness),
                   std::to_string(way.held / 2) + " " + std::to_string(*way.moved_off / 2));
  }
}

}  // namespace
}  // namespace skewback
