#include <gtest/gtest.h>

#include <cmath>

#include "base/constants.hpp"
#include "cut/arrises.hpp"
#include "cut/pieces.hpp"

namespace skewback {
namespace {

CutReport of(double least_m, double most_m) {
  Block block;
  block.id = "lane-01";
  block.place.phi_length_min_m = least_m;
  block.place.phi_length_max_m = most_m;
  CutReport report;
  report_lengths(block, 0.25, report);
  return report;
}

TEST(CutReport, AWedgeThatRunsOutToAnEdgeIsNamedAndHasNoRatio) {
  const CutReport edge = of(0, 0.722);
  ASSERT_EQ(edge.remarks.size(), 1U);
  EXPECT_EQ(
      edge.remarks[0].find("lane-01 runs out to an edge: from bed to bed it is 0.0 to 722 mm"), 0U)
      << edge.remarks[0];
  EXPECT_TRUE(std::isinf(edge.height_ratio_max));
}

TEST(CutReport, RatioIsLongestOverShortestAndShortBlocksAreNamed) {
  const CutReport sound = of(0.4, 0.5);
  EXPECT_TRUE(sound.remarks.empty());
  EXPECT_DOUBLE_EQ(sound.height_ratio_max, 1.25);
  const CutReport little = of(0.2, 0.3);
  ASSERT_EQ(little.remarks.size(), 1U);
  EXPECT_EQ(little.remarks[0], "lane-01 is 200 mm long at the least, under the limit of 250 mm");
  EXPECT_EQ(of(0, 0).remarks.size(), 0U) << "one bed or three: no way from bed to bed";
}

/// A wedge 0.4 m long that rises to `angle` from its tip, on its side.
Solid wedge(double angle_rad) {
  return prism(Frame{}, {{0, 0}, {1, 0}, {1, std::tan(angle_rad)}}, 0, 0.4);
}

TEST(CutReport, SharpArrisesAreThoseThatStandOut) {
  EXPECT_EQ(sharpest_arris(box({0, 0, 0}, {1, 1, 1})).length_m, 0);
  const Arris sharp = sharpest_arris(wedge(kPi / 9));
  EXPECT_NEAR(sharp.inside_rad, kPi / 9, 1e-9);
  EXPECT_NEAR(sharp.length_m, 0.4, 1e-12);
  EXPECT_EQ(sharpest_arris(wedge(kPi / 5)).length_m, 0) << "36 degrees, the other corner 54";
  // a groove as sharp is no arris
  const double h = 0.5 * std::tan(kPi / 18);
  const Polygon grooved{{0, 0}, {1, 0}, {1, 1}, {0.5 + h, 1}, {0.5, 0.5}, {0.5 - h, 1}, {0, 1}};
  EXPECT_EQ(sharpest_arris(prism(Frame{}, grooved, 0, 0.4)).length_m, 0);
}

/// Two blocks with a joint `side_m` square, many times over, and one with a joint of 30 mm square.
TEST(CutReport, JointsOfNextToNoContactAndSharpBlocksAreNamed) {
  Assembly assembly;
  const auto block = [&](const std::string& id, const Solid& solid) {
    Block one;
    one.id = id;
    one.solid = solid;
    assembly.blocks.push_back(one);
  };
  block("a", box({0, 0, 0}, {1, 1, 1}));
  block("b", box({0, 0, 1}, {1, 1, 2}));
  for (const double side : {0.5, 0.5, 0.5, 0.16}) {
    Joint joint;
    joint.a = 0, joint.b = 1;
    joint.contact = {{{{0, 0}, {side, 0}, {side, side}, {0, side}}, {}}};
    assembly.joints.push_back(joint);
  }
  CutReport sound;
  report_sharp(assembly, sound);
  EXPECT_TRUE(sound.remarks.empty()) << "256 of 2500 cm2";
  block("c", wedge(kPi / 12));
  assembly.joints.back().b = 2;
  assembly.joints.back().contact = {{{{0, 0}, {0.03, 0}, {0.03, 0.03}, {0, 0.03}}, {}}};
  CutReport named;
  report_sharp(assembly, named);
  ASSERT_EQ(named.remarks.size(), 2U);
  EXPECT_EQ(named.remarks[0].find("c has an arris of 15 degrees; 400 mm of its"), 0U)
      << named.remarks[0];
  EXPECT_EQ(named.remarks[1].find("a and c touch over 9.0 cm2, half of all joints over 2500"), 0U)
      << named.remarks[1];
}

/// Four blocks in a row along x, pressed between two beds each, and a small joint between the
/// second and the third beside their beds.
Assembly row_with_a_small_joint(bool pads, double side_m = 0.019) {
  Assembly assembly;
  for (int i = 0; i < 4; ++i) {
    Block block;
    block.id = std::string(1, static_cast<char>('a' + i));
    block.solid = box({1.0 * i, 0, 0}, {i + 1.0, 1, 1});
    assembly.blocks.push_back(block);
  }
  const auto joint = [&](int a, int b, const Vec3& normal, double side) {
    Joint one;
    one.a = a, one.b = b;
    one.frame = frame_on({Vec3::Zero(), normal});
    one.contact = {{{{0, 0}, {side, 0}, {side, side}, {0, side}}, {}}};
    if (pads) one.pad = Pad{0.008, 1e9, 1e8};
    assembly.joints.push_back(one);
  };
  for (int i = 0; i < 3; ++i) joint(i, i + 1, Vec3::UnitX(), 0.5);
  joint(1, 2, Vec3::UnitY(), side_m);
  return assembly;
}

TEST(CutReport, ASmallJointBetweenBlocksThatOthersHoldIsLeftOpenAndSaid) {
  Assembly assembly = row_with_a_small_joint(true);
  CutReport report;
  leave_small_open(assembly, report);
  EXPECT_EQ(assembly.joints.size(), 3U);
  ASSERT_EQ(report.remarks.size(), 1U);
  EXPECT_EQ(
      report.remarks[0],
      "between b and c the joint is left open, without a pad: they would touch over a strip of "
      "3.6 cm2, narrower than 20 mm");
}

TEST(CutReport, ASmallJointStaysWhereABlockWouldBeHeldFromOneSideOnlyOrBlocksTouch) {
  CutReport report;
  Assembly end = row_with_a_small_joint(true);
  end.joints.back().a = 2, end.joints.back().b = 3;  // the last block has one bed
  leave_small_open(end, report);
  EXPECT_EQ(end.joints.size(), 4U);
  Assembly dry = row_with_a_small_joint(false);
  leave_small_open(dry, report);
  EXPECT_EQ(dry.joints.size(), 4U) << "no gap that could stay open";
  Assembly wider = row_with_a_small_joint(true, 0.021);
  leave_small_open(wider, report);
  EXPECT_EQ(wider.joints.size(), 4U);
  EXPECT_TRUE(report.remarks.empty());
}

}  // namespace
}  // namespace skewback
