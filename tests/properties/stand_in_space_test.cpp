// The two views of three-legged bridges and of domes with an eye, drawn at random: what
// stand_properties_test.cpp asks of plane arches, where forces run in more ways than one.

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>

#include "draws.hpp"
#include "moved.hpp"
#include "stand/joint_movement.hpp"
#include "stand/stand.hpp"

namespace skewback {
namespace {

// As for arches: at 1.05 of the limit the pads never reach a state; at 0.95 they do where sliding
// takes no part in the mechanism. Where it does the limit, on a cone that lets joints dilate as
// they slide, is only a bound from above. Joints as stiff as stone, so that movements stay small.
TEST(BothViewsInSpace, PadsHoldUnderTheLimitAndNeverBeyond) {
  SpaceDraw draw{std::mt19937(31)};
  int turning = 0, held = 0, sliding = 0;
  for (int round = 0; round < 40; ++round) {
    Assembly assembly = draw_one(draw, round);
    for (Joint& joint : assembly.joints) joint.pad = Pad{0.008, 2e12, 8e11};
    const CaseProof proof = limit_load(assembly, assembly.cases[0]);
    ASSERT_NE(proof.verdict, Verdict::kUndecided)
        << name_of(round) << ' ' << round << ": " << proof.reason;
    if (!proof.load_factor || *proof.load_factor == 0 || proof.at_cap) continue;
    const auto* falls = std::get_if<Mechanism>(&proof.evidence);
    if (falls == nullptr && proof.limit_mechanism) falls = &*proof.limit_mechanism;
    ASSERT_NE(falls, nullptr) << name_of(round) << ' ' << round;
    PadOptions pads;
    pads.load_factor = 1.05 * *proof.load_factor;
    EXPECT_FALSE(pad_state(assembly, assembly.cases[0], {}, pads).found)
        << name_of(round) << ' ' << round;
    if (slides(assembly, *falls)) {
      ++sliding;
      continue;
    }
    pads.load_factor = 0.95 * *proof.load_factor;
    ++turning;
    held += pad_state(assembly, assembly.cases[0], {}, pads).found;
  }
  RecordProperty("turning", turning);
  RecordProperty("held", held);
  RecordProperty("sliding", sliding);
  EXPECT_GE(turning, 3);
  EXPECT_GE(sliding, 12);
  EXPECT_EQ(held, turning);
}

double factor_of(const Assembly& assembly) {
  return limit_load(assembly, assembly.cases[0]).load_factor.value_or(-1);
}

// Lengths, weights and a rigid motion change nothing; more friction never lowers the factor.
TEST(BothViewsInSpace, LawsOfTheLimitLoad) {
  SpaceDraw draw{std::mt19937(32)};
  double worst = 0;
  int tried = 0;
  for (int round = 0; round < 24; ++round) {
    const Assembly assembly = draw_one(draw, round);
    const double factor = factor_of(assembly);
    if (factor <= 0) continue;
    ++tried;
    const auto same = [&](const Assembly& other, const char* what) {
      const double now = factor_of(other);
      worst = std::max(worst, std::abs(now / factor - 1));
      EXPECT_NEAR(now / factor, 1, 2e-6) << name_of(round) << ' ' << round << ": " << what;
    };
    same(rescaled(assembly, 100, 1), "lengths");
    same(rescaled(assembly, 0.01, 1), "lengths");
    same(rescaled(assembly, 1, 40), "weights");
    const Mat3 R = Eigen::AngleAxisd(2.1, Vec3(0.3, 0.5, -0.4).normalized()).toRotationMatrix();
    same(moved_rigidly(assembly, R, {8, -3, 5}), "a rigid motion");
    Assembly rougher = assembly;
    for (Joint& joint : rougher.joints) joint.friction *= 1.3;
    EXPECT_GE(factor_of(rougher), factor * (1 - 1e-6)) << name_of(round) << ' ' << round;
  }
  EXPECT_GE(tried, 12);
  RecordProperty("worst", std::to_string(worst));
}

// Pads: weights that grow with the stiffness, and a rigid motion, change no movement and no
// friction used; pressures go with the stiffness.
TEST(BothViewsInSpace, LawsOfThePads) {
  SpaceDraw draw{std::mt19937(33)};
  int found = 0;
  for (int round = 0; round < 16; ++round) {
    Assembly assembly = draw_one(draw, round);
    for (Joint& joint : assembly.joints) joint.pad = Pad{0.008, 2e11, 8e10};
    PadOptions pads;
    pads.load_factor = 0.2;
    const PadState first = pad_state(assembly, assembly.cases[0], {}, pads);
    if (!first.found) continue;
    ++found;
    const auto same = [&](const Assembly& other, double pressure, const char* what) {
      const PadState now = pad_state(other, other.cases[0], {}, pads);
      ASSERT_TRUE(now.found) << name_of(round) << ' ' << round << ": " << what << ": "
                             << now.reason;
      EXPECT_NEAR(now.peak_pa / first.peak_pa / pressure, 1, 1e-5) << round << ": " << what;
      EXPECT_NEAR(now.move_max_m / first.move_max_m, 1, 1e-5) << round << ": " << what;
      EXPECT_NEAR(now.friction_used / first.friction_used, 1, 1e-5) << round << ": " << what;
    };
    Assembly heavier = rescaled(assembly, 1, 7);
    for (Joint& joint : heavier.joints) joint.pad = Pad{0.008, 7 * 2e11, 7 * 8e10};
    same(heavier, 7, "weights and stiffness");
    const Mat3 R = Eigen::AngleAxisd(0.9, Vec3(-0.6, 0.2, 0.7).normalized()).toRotationMatrix();
    same(moved_rigidly(assembly, R, {-4, 9, 2}), 1, "a rigid motion");
  }
  EXPECT_GE(found, 10);
}

}  // namespace
}  // namespace skewback
