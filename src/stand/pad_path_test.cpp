// A fixed block moved after the loads, in steps.

#include "stand/pad_path.hpp"

#include <gtest/gtest.h>

#include "stand/sample_arch.hpp"

namespace skewback {
namespace {

constexpr double kStiff = 2e9, kFriction = 0.9;

Joint wall(int a, int b, double x) {
  Joint joint;
  joint.a = a;
  joint.b = b;
  joint.frame = {{x, 0, 0.5}, Vec3::UnitY(), Vec3::UnitZ(), Vec3::UnitX()};
  joint.contact = {{sample::rectangle(0.5, 0.5), {}}};
  joint.friction = kFriction;
  joint.pad = Pad{0.008, kStiff, 0.4 * kStiff};
  return joint;
}

/// A cube of a metre between two walls, clamped by warmth, and one wall that moves off.
struct Clamped {
  Assembly assembly;
  PadOptions pads;
  double slides_at = 0;  // movement at which friction no longer holds the weight

  explicit Clamped(double warmer_k) {
    assembly.blocks = {sample::ground(), sample::block_at("block", {0.5, 0, 0.5}, 2000),
                       sample::ground()};
    assembly.joints = {wall(0, 1, 0), wall(1, 2, 1)};
    pads.warmer_k = warmer_k;
    pads.expansion = 1e-5;
    // two pads in a row share what is left of the growth: N = k (a L T - d) / 2, held at 2 mu N = W
    const double weight = 2000 * kGravity;
    slides_at = 1e-5 * warmer_k - weight / (kFriction * kStiff);
  }
  [[nodiscard]] PadPath moved(double by) {
    BlockMove move;
    move.block = 2;
    move.shift = {by, 0, 0};
    pads.moves = {move};
    return move_in_steps(PadModel(assembly, {}), sample::dead(), pads);
  }
};

// Statics: the wall may go until 2 mu N = W; steps of 1/64 come that near to it.
TEST(PadPath, StopsWhereFrictionGivesOut) {
  Clamped clamped(3);
  ASSERT_GT(clamped.slides_at, 0);
  for (const double share : {0.3, 2.0 / 3, 0.95}) {
    const PadPath path = clamped.moved(clamped.slides_at / share);
    EXPECT_FALSE(path.state.found);
    EXPECT_LE(path.reached, share);
    EXPECT_GT(path.reached, share - 1.0 / 64) << share;
    EXPECT_NE(path.state.reason.find("slide"), std::string::npos) << path.state.reason;
  }
}

TEST(PadPath, ArrivesWhereItHolds) {
  Clamped clamped(3);
  const double by = 0.9 * clamped.slides_at;
  const PadPath path = clamped.moved(by);
  ASSERT_TRUE(path.state.found) << path.state.reason;
  EXPECT_EQ(path.state.in_steps, 4);
  EXPECT_EQ(path.reached, 1);
  EXPECT_NEAR(path.state.joints[0].normal_n, kStiff * (3e-5 - by) / 2, 1e-6 * 2000 * kGravity);
  EXPECT_NEAR(path.state.joints[0].shear_n, 1000 * kGravity, 1e-6 * 2000 * kGravity);
}

// Where all joints stay closed and stick, steps add up to the whole.
TEST(PadPath, StepsAddUpToAtOnceWhereNothingSlips) {
  Clamped clamped(3);
  const PadPath steps = clamped.moved(0.9 * clamped.slides_at);
  const PadState at_once =
      state_at_once_or_in_steps(PadModel(clamped.assembly, {}), sample::dead(), clamped.pads);
  ASSERT_TRUE(at_once.found && steps.state.found);
  ASSERT_TRUE(at_once.sticks && steps.state.sticks);
  EXPECT_EQ(at_once.in_steps, 0);
  EXPECT_LT((at_once.moves[1].v - steps.state.moves[1].v).norm(), 1e-12);
  EXPECT_GT(at_once.moves[1].v.norm(), 1e-6);
}

// Statics: a push along the bed, no higher than it, slides the block at mu W.
TEST(PadPath, LoadsAsFarAsFrictionGoes) {
  Assembly assembly = sample::one_block(0.5);
  assembly.joints[0].pad = Pad{0.008, kStiff, 0.4 * kStiff};
  LoadCase push = sample::dead();
  push.live = {{1, {0, 0, 0}, {1000, 0, 0}}};
  const double slides_at = 0.5 * 1000 * kGravity / 1000;
  const PadModel model(assembly, {});
  PadOptions pads;
  pads.load_factor = slides_at / 0.8;
  const PadPath path = load_in_steps(model, push, pads);
  EXPECT_FALSE(path.state.found);
  EXPECT_LE(path.reached, 0.8);
  EXPECT_GT(path.reached, 0.8 - 1.0 / 64);
  const PadState both = state_at_once_or_in_steps(model, push, pads);
  EXPECT_FALSE(both.found);
  EXPECT_NE(both.reason.find("80 % of the live load"), std::string::npos) << both.reason;
  pads.load_factor = 0.95 * slides_at;
  const PadPath held = load_in_steps(model, push, pads);
  ASSERT_TRUE(held.state.found) << held.state.reason;
  EXPECT_NEAR(held.state.joints[0].shear_n, 950 * slides_at, 1e-6 * 1000 * kGravity);
  EXPECT_EQ(held.state.forces.load_factor, pads.load_factor);
}

}  // namespace
}  // namespace skewback
