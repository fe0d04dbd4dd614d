// The two views of the same arches, drawn at random.

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <random>

#include "../published/ring.hpp"
#include "moved.hpp"
#include "stand/stand.hpp"

namespace skewback {
namespace {

struct Draw {
  std::mt19937 rng;
  double unit() { return std::uniform_real_distribution<double>(0, 1)(rng); }
  double log(double a, double b) { return a * std::pow(b / a, unit()); }
};

/// An arch that stands with something to spare, and a load on one of its blocks.
Assembly draw_arch(Draw& draw, double size) {
  Ring ring;
  ring.radius = size;
  ring.thickness = draw.log(0.14, 0.3) * size;
  ring.embrace = (110 + 70 * draw.unit()) * kPi / 180;
  ring.voussoirs = 5 + static_cast<int>(draw.log(1, 20));
  ring.friction = draw.log(0.6, 1.2);
  Assembly arch = make_arch(ring);
  for (Joint& joint : arch.joints) joint.pad = Pad{0.008, 2e12, 8e11};
  LoadCase load = arch.cases[0];
  load.id = "live";
  const int block = 1 + static_cast<int>(draw.unit() * ring.voussoirs);
  const Block& struck = arch.blocks[static_cast<std::size_t>(block)];
  const double weight = mass_kg(struck) * kGravity;
  load.live = {{block, struck.mass.centroid,
                weight * draw.log(1, 10) * Vec3(0.6 * (draw.unit() - 0.5), 0, -1)}};
  arch.cases = {load};
  return arch;
}

// At 0.95 of the limit load of the associated cone the pads reach a state wherever sliding does not
// govern; at 1.05 they never do, whatever governs: their forces would balance what nothing can.
// Sizes log-uniform from 0.3 to 300 m.
TEST(BothViews, PadsHoldUnderTheLimitAndNeverBeyond) {
  Draw draw{std::mt19937(20261125)};
  int tried = 0, held = 0;
  for (int round = 0; round < 60; ++round) {
    const Assembly arch = draw_arch(draw, draw.log(0.3, 300));
    const CaseProof proof = limit_load(arch, arch.cases[0]);
    ASSERT_NE(proof.verdict, Verdict::kUndecided) << round << ": " << proof.reason;
    if (!proof.load_factor || *proof.load_factor == 0 || proof.at_cap) continue;
    PadOptions pads;
    pads.load_factor = 1.05 * *proof.load_factor;
    EXPECT_FALSE(pad_state(arch, arch.cases[0], {}, pads).found) << round;
    pads.load_factor = 0.95 * *proof.load_factor;
    ++tried;
    held += pad_state(arch, arch.cases[0], {}, pads).found;
  }
  EXPECT_GE(tried, 20);
  EXPECT_GE(held, tried * 9 / 10) << "of " << tried;  // the rest slide
  RecordProperty("tried", tried);
  RecordProperty("held", held);
}

double factor_of(const Assembly& arch) {
  return limit_load(arch, arch.cases[0]).load_factor.value_or(-1);
}

// Laws of the limit load: lengths, weights, a rigid motion and cutting a joint in two change
// nothing; more friction never lowers it.
TEST(BothViews, LawsOfTheLimitLoad) {
  Draw draw{std::mt19937(7)};
  double worst = 0;
  for (int round = 0; round < 30; ++round) {
    const Assembly arch = draw_arch(draw, 3);
    const double factor = factor_of(arch);
    const auto same = [&](const Assembly& other, const char* what) {
      const double now = factor_of(other);
      worst = std::max(worst, std::abs(now / factor - 1));
      EXPECT_NEAR(now / factor, 1, 2e-6) << round << ": " << what;
    };
    if (factor <= 0) continue;

    same(rescaled(arch, 1, 40), "weights");
    same(rescaled(arch, 100, 1), "lengths");

    const Mat3 R = Eigen::AngleAxisd(1.1, Vec3(0.3, -0.5, 0.8).normalized()).toRotationMatrix();
    const Assembly turned = moved_rigidly(arch, R, {3, -5, 2});
    same(turned, "a rigid motion");

    Assembly divided = arch;
    Joint& whole = divided.joints[1];
    Joint other = whole;
    const double h = whole.contact[0].outer[2].y();
    whole.contact = {{{{-0.5, -h}, {0.1, -h}, {0.1, h}, {-0.5, h}}, {}}};
    other.contact = {{{{0.1, -h}, {0.5, -h}, {0.5, h}, {0.1, h}}, {}}};
    divided.joints.push_back(other);
    same(divided, "a joint in two parts");

    Assembly rougher = arch;
    for (Joint& joint : rougher.joints) joint.friction *= 1.3;
    EXPECT_GE(factor_of(rougher), factor * (1 - 1e-6)) << round;
  }
  RecordProperty("worst", std::to_string(worst));
}

// The same bridge turned and moved: pads give the same pressures.
TEST(BothViews, PadsDoNotDependOnTheFrame) {
  Draw draw{std::mt19937(11)};
  for (int round = 0; round < 10; ++round) {
    Assembly arch = draw_arch(draw, 3);
    PadOptions pads;
    pads.load_factor = 0;
    const PadState before = pad_state(arch, arch.cases[0], {}, pads);
    ASSERT_TRUE(before.found) << before.reason;
    const Mat3 R = Eigen::AngleAxisd(0.7, Vec3(-0.2, 0.5, 0.4).normalized()).toRotationMatrix();
    arch = moved_rigidly(arch, R, {30, 5, -2});
    const PadState after = pad_state(arch, arch.cases[0], {}, pads);
    ASSERT_TRUE(after.found) << after.reason;
    EXPECT_NEAR(after.peak_pa / before.peak_pa, 1, 1e-6) << round;
    EXPECT_NEAR(after.move_max_m / before.move_max_m, 1, 1e-6) << round;
  }
}

}  // namespace
}  // namespace skewback
