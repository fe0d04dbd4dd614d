#include "survey/gaps_close.hpp"

#include <gtest/gtest.h>

#include "survey/sample_pillar.hpp"
#include "survey/stack.hpp"

namespace skewback {
namespace {

// One block on a pad whose joint stands open by 2 mm: when what held it goes it comes down 2 mm
// further, level, and the pad is pressed as it is without the gap (weight over area).
TEST(CloseGaps, ABlockComesDownByItsGap) {
  const Assembly assembly = sample::pillar(0.01);
  const auto plain = prove_all(assembly);
  const GapsClosing none = close_gaps(assembly, {Vec3::Zero()}, plain, {}, {});
  EXPECT_NEAR(none.drop_m, 0, 1e-9);
  const GapsClosing gaps = close_gaps(assembly, {Vec3(2e-3, 0, 0)}, plain, {}, {});
  EXPECT_EQ(gaps.cases, 2);
  EXPECT_EQ(gaps.balanced, 2);
  EXPECT_NEAR(gaps.drop_m, 2e-3, 1e-6);
  EXPECT_NEAR(gaps.peak_pa, none.peak_pa, 1e-3 * none.peak_pa);
  EXPECT_EQ(gaps.peak_joint, none.peak_joint);
  EXPECT_EQ(gaps.peaks_pa, std::vector<double>{gaps.peak_pa});
}

TEST(CloseGaps, WhatCannotBalanceSaysWhichCase) {
  Assembly assembly = sample::pillar(0.01);
  assembly.cases[1].live = {{1, {0.8, 0, 2}, {0, 0, -1e6}}};  // far beyond the bed's edge
  const GapsClosing gaps = close_gaps(assembly, {Vec3::Zero()}, prove_all(assembly), {}, {});
  EXPECT_EQ(gaps.cases, 2);
  EXPECT_EQ(gaps.balanced, 1);
  EXPECT_NE(gaps.reason.find("case live"), std::string::npos) << gaps.reason;
}

// The block's centre of gravity stands above the middle of its joint, so it comes down by the gap
// there, wherever the bridge lies in the world; and only weight alone is compared.
TEST(CloseGaps, ComesDownByTheGapUnderItsCentreOfGravity) {
  Assembly assembly = sample::pillar(0.01);
  const Vec3 away(2, 1, 0);
  for (Block& block : assembly.blocks) block.solid = moved(block.solid, {Mat3::Identity(), away});
  assembly.joints[0].frame.origin += away;
  assembly.cases[1].live[0].point += away;
  measure(assembly);
  auto plain = prove_all(assembly);
  plain[1].pads->moves[1].v.z() += 0.05;  // of a case with live load: not looked at
  const GapsClosing gaps = close_gaps(assembly, {Vec3(1e-3, 4e-4, -6e-4)}, plain, {}, {});
  EXPECT_NEAR(gaps.drop_m, 1e-3, 2e-6);
}

TEST(CloseGaps, ThePeakOfEachJointIsThatOfItsWorstCase) {
  Assembly assembly = sample::pillar(0.01);
  std::swap(assembly.cases[0], assembly.cases[1]);  // the heavier first
  const auto plain = prove_all(assembly);
  const GapsClosing gaps = close_gaps(assembly, {Vec3::Zero()}, plain, {}, {});
  EXPECT_NEAR(gaps.peaks_pa.at(0), plain[0].pads->peak_pa, 1e-6 * plain[0].pads->peak_pa);
  EXPECT_GT(gaps.peaks_pa[0], 1.05 * plain[1].pads->peak_pa);
}

TEST(CloseGaps, OfSeveralThatCannotBalanceTheFirstIsNamed) {
  Assembly assembly = sample::pillar(0.01);
  for (LoadCase& load : assembly.cases) load.live = {{1, {0.8, 0, 2}, {0, 0, -1e6}}};
  const GapsClosing gaps = close_gaps(assembly, {Vec3::Zero()}, prove_all(assembly), {}, {});
  EXPECT_EQ(gaps.balanced, 0);
  EXPECT_EQ(gaps.reason.rfind("case dead", 0), 0u) << gaps.reason;
}

// Gaps of 3 mm at the lower and 1 mm at the upper corners, packers of 1 mm in all: 2 and 0 are
// left, so 1 mm in the middle and -2 mm over the bed's 0.6 m.
TEST(GapsLeft, WhatPackersDoNotFill) {
  const Assembly drawn = sample::pillar(0.01);
  const StackModel model(drawn);
  Refit found;
  found.packed.moves.resize(drawn.blocks.size());
  found.packed.joints.resize(1);
  found.packed.held_m.resize(1);
  for (std::size_t k = 0; k < 4; ++k) {
    found.packed.joints[0].gap_m[k] = model.corners()[0][k].y() < 0 ? 3e-3 : 1e-3;
    found.packed.held_m[0][k] = 1e-3;
  }
  const std::vector<Vec3> left = gaps_left(model, found, drawn);
  ASSERT_EQ(left.size(), 1u);
  EXPECT_NEAR(left[0][0], 1e-3, 1e-9);
  EXPECT_NEAR(left[0][1], 0, 1e-9);
  EXPECT_NEAR(left[0][2], -2e-3 / 0.6, 1e-9);
}

// 3 mm at the lower corners with 1 mm packed, 1 mm at the upper with none: 2 and 1 mm are left. The
// stone is laid 60 mm further up its bed and the joint, half way between both blocks, was built
// 10 mm further up: its corners lie at -0.28 and 0.32 m there.
TEST(GapsLeft, AreThoseAtThePlacesWhereTheBlocksLie) {
  const Assembly drawn = sample::pillar(0.01);
  Assembly built = drawn;
  built.joints[0].frame.origin.y() += 0.01;
  const StackModel model(drawn);
  Refit found;
  found.packed.moves.resize(drawn.blocks.size());
  found.packed.moves[1].shift = {0, 0.06, 0};
  found.packed.joints.resize(1);
  found.packed.held_m.resize(1);
  for (std::size_t k = 0; k < 4; ++k) {
    const bool lower = model.corners()[0][k].y() < 0;
    found.packed.joints[0].gap_m[k] = lower ? 3e-3 : 1e-3;
    found.packed.held_m[0][k] = lower ? 1e-3 : 0;
  }
  const std::vector<Vec3> left = gaps_left(model, found, built);
  ASSERT_EQ(left.size(), 1u);
  EXPECT_NEAR(left[0][0], 2e-3 - 1e-3 * 0.28 / 0.6, 1e-9);
  EXPECT_NEAR(left[0][1], 0, 1e-9);
  EXPECT_NEAR(left[0][2], -1e-3 / 0.6, 1e-9);
}

}  // namespace
}  // namespace skewback
