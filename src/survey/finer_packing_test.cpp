#include "survey/finer_packing.hpp"

#include <gtest/gtest.h>

namespace skewback {
namespace {

// By hand: a quarter and half of 0.2 mm; a quarter of 0.4 mm.
TEST(FinerPacking, ThinnerSheetsThenLessSlackToo) {
  PackingRequest packing;
  packing.stock_m = {0.0002, 0.001};
  packing.slack_m = 0.0004;
  const std::vector<FinerPacking> finer = finer_packing(packing);
  ASSERT_EQ(finer.size(), 2U);
  ASSERT_EQ(finer[0].packing.stock_m.size(), 4U);
  EXPECT_NEAR(finer[0].packing.stock_m[0], 0.00005, 1e-12);
  EXPECT_NEAR(finer[0].packing.stock_m[1], 0.0001, 1e-12);
  EXPECT_EQ(finer[0].packing.slack_m, 0.0004);
  EXPECT_EQ(finer[0].words, "sheets of 0.05 and 0.10 mm in packing.stock");
  EXPECT_EQ(finer[1].packing.stock_m, finer[0].packing.stock_m);
  EXPECT_NEAR(finer[1].packing.slack_m, 0.0001, 1e-12);
  EXPECT_EQ(finer[1].words,
            "sheets of 0.05 and 0.10 mm in packing.stock with a packing.slack of 0.10 mm");
}

TEST(FinerPacking, NothingUnderFoil) {
  PackingRequest packing;
  packing.stock_m = {0.00005, 0.001};
  packing.slack_m = 0.00005;
  EXPECT_TRUE(finer_packing(packing).empty());
  packing.slack_m = 0.0001;  // a quarter would be 0.025 mm
  const std::vector<FinerPacking> finer = finer_packing(packing);
  ASSERT_EQ(finer.size(), 1U);
  EXPECT_EQ(finer[0].words, "a packing.slack of 0.05 mm");
}

}  // namespace
}  // namespace skewback
