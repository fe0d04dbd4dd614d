#include <gtest/gtest.h>

#include <cmath>

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

}  // namespace
}  // namespace skewback
