#include "erect/printing_days.hpp"

#include <gtest/gtest.h>

namespace skewback {
namespace {

/// One bead along the table's x.
BlockPrint bar(int block, double length_m) {
  BlockPrint out;
  out.block = block;
  out.poses.resize(2);
  out.poses[0].tip = {-length_m / 2, 0, 0.01};
  out.poses[1].tip = {length_m / 2, 0, 0.01};
  out.poses[0].share_m = 0.03F;
  out.poses[0].height_m = 0.01F;
  return out;
}

// Printed on days 0, 1, 1, 4 and lifted on 3, 4, 4, 7: three stand on days 1 and 2, two days
// later only the fourth.
TEST(PrintingDays, BoardsAreCountedFromPrintingToLifting) {
  PrintSet set;
  PrintPlan plan;
  for (int i = 0; i < 4; ++i) {
    set.blocks.push_back(bar(i, 0.4 + 0.1 * i));
    plan.order.push_back({.block = i});
  }
  const OnBoards most = most_on_boards(set, plan, {{0, 3}, {1, 4}, {1, 4}, {4, 7}});
  EXPECT_EQ(most.blocks, 3);
  EXPECT_EQ(most.day, 1);
  const double w = width_m(set.blocks[0].poses[0]);
  EXPECT_NEAR(most.floor_m2, w * (0.4 + 0.5 + 0.6 + 3 * w), 1e-6);
  EXPECT_EQ(most_on_boards(set, {}, {}).blocks, 0);
}

// A spare of the first block stands beside it.
TEST(PrintingDays, SparesTakeABoardOfTheirOwn) {
  PrintSet set;
  set.blocks.push_back(bar(0, 0.4));
  PrintPlan plan;
  plan.order = {{.block = 0}, {.block = 0, .again = true}};
  EXPECT_EQ(most_on_boards(set, plan, {{0, 7}, {0, 7}}).blocks, 2);
}

}  // namespace
}  // namespace skewback
