#include "deliver/remark.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

using testing::ElementsAre;

TEST(Remark, AListIsTakenApartByWhatStandsInBrackets) {
  const auto list = list_remark(
      "Ribs that tip: R1 (at step 8, wind to the south), R2 (at 3), R3 (at 3), R4 (at 3), R5 (at "
      "3), R6, R7 (at 3), R12 (at 8). Tie them down, or not; look.");
  ASSERT_TRUE(list);
  EXPECT_EQ(list->lead, "Ribs that tip");
  EXPECT_EQ(list->tail, ". Tie them down, or not; look.");
  EXPECT_EQ(list->count, 8U);
  ASSERT_EQ(list->groups.size(), 4U);
  EXPECT_EQ(list->groups[0].note, "at step 8, wind to the south");
  EXPECT_THAT(list->groups[1].names, ElementsAre("R2", "R3", "R4", "R5", "R7"));
  EXPECT_EQ(list->groups[2].note, "");
}

TEST(Remark, WhatIsNoListStaysWhole) {
  EXPECT_FALSE(list_remark("No colon here, only, words, one, two, three, four, five."));
  EXPECT_FALSE(
      list_remark("Not looked at: the ground under the feet, joints of braces, wind on "
                  "it, a knock, uneven settlement, weight, rain, snow, ice."));
  EXPECT_FALSE(list_remark("Two: R1, R2. Short."));
  EXPECT_FALSE(list_remark("Open: R1 (never, R2, R3, R4, R5, R6, R7, R8, R9."));
}

TEST(Remark, NamesInARowAreTold) {
  EXPECT_THAT(in_runs({"R1-2", "R1-3", "R1-4", "R10-1", "R10-2", "R2-1", "R2-2", "R2-3", "key"}),
              ElementsAre("R1-2 to R1-4", "R2-1 to R2-3", "R10-1", "R10-2", "key"));
  EXPECT_THAT(in_runs({"R12", "R2", "R3", "R4"}), ElementsAre("R2 to R4", "R12"));
  EXPECT_THAT(in_runs({}), ElementsAre());
}

TEST(Text, FiguresThatCount) {
  EXPECT_EQ(figures(35.37, 2), "35");
  EXPECT_EQ(figures(7.33, 2), "7.3");
  EXPECT_EQ(figures(9.96, 2), "10");
  EXPECT_EQ(figures(0.0456, 2), "0.046");
  EXPECT_EQ(figures(123.4, 2), "120");
  EXPECT_EQ(figures(-1.05, 1), "-1");
  EXPECT_EQ(figures(0, 2), "0");
}

TEST(Text, LinesAreBrokenAtSpaces) {
  EXPECT_THAT(broken("one two three", 8), ElementsAre("one two", "three"));
  EXPECT_THAT(broken("unbreakable it is", 5), ElementsAre("unbreakable", "it is"));
  EXPECT_THAT(broken("", 5), ElementsAre(""));
}

}  // namespace
}  // namespace skewback::deliver
