#include "print/plan_printing.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace skewback {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

struct Item {
  std::string id;
  int arm, course, place;
  double hours, volume_m3;
};

struct Works {
  Brief brief;
  Assembly assembly;
  PrintSet set;
};

// Shift 8 h, an hour between blocks, batches of 0.25 m3 without test pieces, no accelerator.
Works works_of(const std::vector<Item>& items) {
  Works w;
  PrintRequest& print = w.brief.print;
  print.shift_s = 8 * 3600;
  print.setting_up_s = 3600;
  print.curing_s = 2 * 86400;
  print.batch_m3 = 0.25;
  print.coupons = 0;
  print.open_time_s = 1e9;
  Block ground;
  ground.fixed = true;
  w.assembly.blocks.push_back(ground);
  for (const Item& item : items) {
    Block block;
    block.id = item.id;
    block.place.arm = item.arm;
    block.place.course = item.course;
    block.place.place = item.place;
    BlockPrint out;
    out.block = static_cast<int>(w.assembly.blocks.size());
    out.id = item.id;
    out.way = PrintWay::kBedToBed;
    out.printable = true;
    out.time_s = item.hours * 3600;
    out.volume_m3 = item.volume_m3;
    w.assembly.blocks.push_back(block);
    w.set.blocks.push_back(out);
  }
  return w;
}

std::vector<std::string> order_of(const Works& w) {
  std::vector<std::string> ids;
  for (const PrintSlot& slot : w.set.order) {
    ids.push_back(w.assembly.blocks[static_cast<std::size_t>(slot.block)].id);
  }
  return ids;
}

TEST(PlanPrinting, GoesCourseByCourseAndLegAfterLeg) {
  Works w = works_of({{"key", -1, 2, 1, 1, 0.1},
                      {"b2", 1, 2, 1, 1, 0.1},
                      {"b1", 1, 1, 1, 1, 0.1},
                      {"a2", 0, 2, 1, 1, 0.1},
                      {"a1right", 0, 1, 2, 1, 0.1},
                      {"a1left", 0, 1, 1, 1, 0.1}});
  plan_printing(w.brief, w.assembly, w.set);
  EXPECT_THAT(order_of(w), ElementsAre("a1left", "a1right", "b1", "a2", "b2", "key"));
}

// 3 h each and an hour between: 0-3, 4-7, then 8-11 is past the shift, so the next day.
TEST(PlanPrinting, ABlockIsBegunOnlyIfItEndsWithinTheShift) {
  Works w = works_of({{"a", 0, 1, 1, 3, 0.1},
                      {"b", 0, 2, 1, 3, 0.1},
                      {"c", 0, 3, 1, 3, 0.1},
                      {"d", 0, 4, 1, 4, 0.1}});
  plan_printing(w.brief, w.assembly, w.set);
  ASSERT_EQ(w.set.order.size(), 4U);
  const auto& o = w.set.order;
  EXPECT_EQ(o[0].day, 1);
  EXPECT_EQ(o[1].day, 1);
  EXPECT_EQ(o[2].day, 2);
  EXPECT_EQ(o[3].day, 2);  // 4 h to 8 h: ends with the shift, to the second
  EXPECT_NEAR(o[1].start_s, 4 * 3600, 1e-9);
  EXPECT_NEAR(o[2].start_s, 0, 1e-9);
  EXPECT_NEAR(o[3].start_s, 4 * 3600, 1e-9);
  EXPECT_EQ(w.set.days, 2);
  EXPECT_NEAR(w.set.print_s, 13 * 3600, 1e-6);
  EXPECT_TRUE(w.set.remarks.empty());
}

TEST(PlanPrinting, ABlockLongerThanAShiftHasADayOfItsOwn) {
  Works w = works_of({{"a", 0, 1, 1, 1, 0.1}, {"long", 0, 2, 1, 9, 0.1}, {"c", 0, 3, 1, 1, 0.1}});
  plan_printing(w.brief, w.assembly, w.set);
  EXPECT_EQ(w.set.order[1].day, 2);
  EXPECT_NEAR(w.set.order[1].start_s, 0, 1e-9);
  EXPECT_EQ(w.set.order[2].day, 3);
  EXPECT_EQ(w.set.days, 3);
  EXPECT_THAT(w.set.remarks, ElementsAre(HasSubstr("long: 9.0 h of printing")));
}

// Done on day 1 at 3 h; two days later at 3 h is day 3. Cured for 6 h more it is 9 h, when the
// shift is over: day 4.
TEST(PlanPrinting, CuringRunsOnAndEndsWithinAShift) {
  Works w = works_of({{"a", 0, 1, 1, 3, 0.1}});
  plan_printing(w.brief, w.assembly, w.set);
  EXPECT_EQ(w.set.order[0].ready_day, 3);
  w.brief.print.curing_s += 6 * 3600;
  plan_printing(w.brief, w.assembly, w.set);
  EXPECT_EQ(w.set.order[0].ready_day, 4);
}

// By hand, 3 h each: a, a again | b, c | c again: a third day, and no batch over night.
TEST(PlanPrinting, SparesComeRightAfterTheirBlock) {
  Works w = works_of({{"a", 0, 1, 1, 3, 0.1}, {"b", 0, 2, 1, 3, 0.1}, {"c", 0, 3, 1, 3, 0.1}});
  plan_printing(w.brief, w.assembly, w.set);
  EXPECT_EQ(w.set.days, 2);
  const PrintPlan plan = with_spares(w.brief.print, w.set, {1, 3});
  ASSERT_EQ(plan.order.size(), 5U);
  const std::vector<int> blocks{1, 1, 2, 3, 3}, days{1, 1, 2, 2, 3};
  const std::vector<bool> again{false, true, false, false, true};
  for (std::size_t i = 0; i < 5; ++i) {
    EXPECT_EQ(plan.order[i].block, blocks[i]) << i;
    EXPECT_EQ(plan.order[i].day, days[i]) << i;
    EXPECT_EQ(plan.order[i].again, again[i]) << i;
  }
  EXPECT_EQ(plan.order[4].ready_day, 5);
  EXPECT_EQ(plan.days, 3);
  EXPECT_NEAR(plan.print_s, 15 * 3600, 1e-6);
  ASSERT_EQ(plan.batches.size(), 3U);
  EXPECT_THAT(plan.batches[0].blocks, ElementsAre("a", "a again"));
  EXPECT_THAT(plan.batches[1].blocks, ElementsAre("b", "c"));
  EXPECT_THAT(plan.batches[2].blocks, ElementsAre("c again"));
}

TEST(PlanPrinting, BatchesEndBetweenBlocks) {
  Works w = works_of({{"a", 0, 1, 1, 1, 0.10},
                      {"b", 0, 2, 1, 1, 0.15},
                      {"c", 0, 3, 1, 1, 0.20},
                      {"d", 0, 4, 1, 1, 0.10}});
  plan_printing(w.brief, w.assembly, w.set);
  ASSERT_EQ(w.set.batches.size(), 3U);
  EXPECT_THAT(w.set.batches[0].blocks, ElementsAre("a", "b"));
  EXPECT_THAT(w.set.batches[1].blocks, ElementsAre("c"));
  EXPECT_THAT(w.set.batches[2].blocks, ElementsAre("d"));
  EXPECT_NEAR(w.set.batches[0].volume_m3, 0.25, 1e-12);
  EXPECT_NEAR(w.set.batches[1].volume_m3, 0.20, 1e-12);
}

TEST(PlanPrinting, ABatchIsNotKeptOvernight) {
  Works w = works_of({{"a", 0, 1, 1, 5, 0.05}, {"b", 0, 2, 1, 5, 0.05}});
  plan_printing(w.brief, w.assembly, w.set);
  ASSERT_EQ(w.set.batches.size(), 2U);
}

// Two test pieces of 1.024 L: 0.25 - 0.002048 m3 are left for blocks, so two of 0.1245 m3 no
// longer go into one batch. A mix with a quarter of accelerator is 1 / 1.25 of what is laid.
TEST(PlanPrinting, TestPiecesComeOutOfTheBatch) {
  Works w = works_of({{"a", 0, 1, 1, 1, 0.1245}, {"b", 0, 2, 1, 1, 0.1245}});
  plan_printing(w.brief, w.assembly, w.set);
  EXPECT_EQ(w.set.batches.size(), 1U);
  w.brief.print.coupons = 2;
  plan_printing(w.brief, w.assembly, w.set);
  ASSERT_EQ(w.set.batches.size(), 2U);
  EXPECT_EQ(w.set.batches[0].coupons, 2);
  EXPECT_NEAR(w.set.batches[0].volume_m3, 0.1245 + 0.002048, 1e-12);
  w.brief.print.accelerator = 0.25;
  plan_printing(w.brief, w.assembly, w.set);
  ASSERT_EQ(w.set.batches.size(), 1U);
  EXPECT_NEAR(w.set.batches[0].volume_m3, (2 * 0.1245 + 0.002048) / 1.25, 1e-12);
}

// 0.6 m3 of 0.25 m3 batches take three however they are cut: the first is what "a" leaves, 0.15,
// and the rest is split evenly. The last of them has no room for "c".
TEST(PlanPrinting, ABlockLargerThanABatchTakesSeveral) {
  Works w = works_of({{"a", 0, 1, 1, 1, 0.1}, {"large", 0, 2, 1, 1, 0.6}, {"c", 0, 3, 1, 1, 0.15}});
  plan_printing(w.brief, w.assembly, w.set);
  ASSERT_EQ(w.set.batches.size(), 4U);
  EXPECT_THAT(w.set.batches[0].blocks, ElementsAre("a", "large"));
  EXPECT_NEAR(w.set.batches[0].volume_m3, 0.25, 1e-12);
  for (const std::size_t k : {1U, 2U}) {
    EXPECT_THAT(w.set.batches[k].blocks, ElementsAre("large"));
    EXPECT_NEAR(w.set.batches[k].volume_m3, 0.225, 1e-12);
  }
  EXPECT_THAT(w.set.batches[3].blocks, ElementsAre("c"));
  EXPECT_THAT(w.set.remarks, ElementsAre(HasSubstr("large: 0.600 m3 of mix, more than the 0.250")));
}

// Blocks a hair over a batch: two mixes of half, and each further block one mix more, not two.
TEST(PlanPrinting, BlocksSlightlyOverABatchShareMixes) {
  Works w = works_of({{"a", 0, 1, 1, 1, 0.26}, {"b", 0, 2, 1, 1, 0.26}, {"c", 0, 3, 1, 1, 0.26}});
  plan_printing(w.brief, w.assembly, w.set);
  ASSERT_EQ(w.set.batches.size(), 4U);
  EXPECT_NEAR(w.set.batches[0].volume_m3, 0.13, 1e-12);
  EXPECT_THAT(w.set.batches[1].blocks, ElementsAre("a", "b"));  // 0.13 and 0.12
  EXPECT_THAT(w.set.batches[2].blocks, ElementsAre("b", "c"));  // 0.14 and 0.11
  EXPECT_NEAR(w.set.batches[3].volume_m3, 0.15, 1e-12);
}

// Blocks of an hour an hour apart: one mix for the three lasts from 0 to 5 h.
TEST(PlanPrinting, MixesEndWithTheirOpenTime) {
  Works w = works_of({{"a", 0, 1, 1, 1, 0.05}, {"b", 0, 2, 1, 1, 0.05}, {"c", 0, 3, 1, 1, 0.05}});
  w.brief.print.open_time_s = 0;
  plan_printing(w.brief, w.assembly, w.set);
  ASSERT_EQ(w.set.batches.size(), 1U);
  EXPECT_NEAR(w.set.batches[0].to_s, 5 * 3600, 1e-6);
  EXPECT_THAT(w.set.remarks, ElementsAre(HasSubstr("mix 1 is in use for 5.0 h, until c is laid")));
  w.set.remarks.clear();
  w.brief.print.open_time_s = 3 * 3600;
  plan_printing(w.brief, w.assembly, w.set);
  ASSERT_EQ(w.set.batches.size(), 2U);
  EXPECT_THAT(w.set.batches[0].blocks, ElementsAre("a", "b"));
  EXPECT_NEAR(w.set.batches[0].to_s, 3 * 3600, 1e-6);
  EXPECT_NEAR(w.set.batches[1].from_s, 4 * 3600, 1e-6);
  EXPECT_EQ(w.set.batches[1].day, 1);
  EXPECT_TRUE(w.set.remarks.empty());
  w.brief.print.open_time_s = 1800;
  plan_printing(w.brief, w.assembly, w.set);
  ASSERT_EQ(w.set.batches.size(), 6U);
  for (const Batch& batch : w.set.batches) EXPECT_NEAR(batch.to_s - batch.from_s, 1800, 1e-6);
  EXPECT_THAT(w.set.remarks.at(0), HasSubstr("a: 60 min of printing, longer than the 30 min"));
  w.brief.print.open_time_s = 179;  // an hour over 20 mixes is 180 s
  plan_printing(w.brief, w.assembly, w.set);
  EXPECT_FALSE(w.set.blocks[0].printable);
  EXPECT_THAT(w.set.blocks[0].reason, HasSubstr("open time 179 s against 180"));
  EXPECT_TRUE(w.set.batches.empty());
}

// 0.1 m3 are 20 batches of 5 L without test pieces; of 4 L they would be 25.
TEST(PlanPrinting, MoreThanTwentyMixesInABlockAreRefused) {
  Works w = works_of({{"small", 0, 1, 1, 1, 0.05}, {"a", 0, 2, 1, 1, 0.1}});
  w.brief.print.batch_m3 = 0.005;
  plan_printing(w.brief, w.assembly, w.set);
  EXPECT_EQ(w.set.batches.size(), 30U);
  EXPECT_TRUE(w.set.blocks[1].printable);
  w.brief.print.batch_m3 = 0.004;
  plan_printing(w.brief, w.assembly, w.set);
  EXPECT_TRUE(w.set.blocks[0].printable);
  EXPECT_FALSE(w.set.blocks[1].printable);
  EXPECT_THAT(w.set.blocks[1].reason, HasSubstr("25 mixes"));
  EXPECT_THAT(w.set.blocks[1].reason, HasSubstr("to change: print.batch 5 L"));
  ASSERT_EQ(w.set.blocks[1].checks.size(), 1U);
  EXPECT_FALSE(w.set.blocks[1].checks[0].passes());
}

// A test piece takes 1.024 L: of batches of 1 L nothing is left for a block.
TEST(PlanPrinting, ABatchNoLargerThanItsTestPiecesIsRefused) {
  Works w = works_of({{"a", 0, 1, 1, 1, 0.1}});
  w.brief.print.batch_m3 = 0.001;
  w.brief.print.coupons = 1;
  plan_printing(w.brief, w.assembly, w.set);
  EXPECT_FALSE(w.set.blocks[0].printable);
  EXPECT_THAT(w.set.blocks[0].reason, HasSubstr("print.batch 7 L"));  // 100 / 20 + 1.024
  EXPECT_TRUE(w.set.batches.empty());
}

// Each block names the time that does for all: 26 s and 2 % more, whole seconds.
TEST(PlanPrinting, EveryWaitingBlockNamesTheTimeThatDoesForAll) {
  Works w = works_of({{"a", 0, 1, 1, 1, 0.1}, {"b", 0, 2, 1, 1, 0.1}});
  for (std::size_t i = 0; i < 2; ++i) {
    BlockPrint& block = w.set.blocks[i];
    const std::string own = i == 0 ? "25" : "26";
    block.printable = false;
    block.layer_time_needed_s = i == 0 ? 25 : 26;
    PrintCheck check{"fresh strength", 1.1, 1, "", false, "layer 2", ""};
    check.change = "a slower rise: print.layer_time_min " + own + " s; or another mix";
    check.waiting = true;
    block.reason = "fresh strength; to change: " + check.change;
    block.checks.push_back(check);
  }
  plan_printing(w.brief, w.assembly, w.set);
  for (const BlockPrint& block : w.set.blocks) {
    EXPECT_THAT(block.reason, HasSubstr("print.layer_time_min 27 s, for all blocks; or another"));
    EXPECT_THAT(block.checks[0].change, HasSubstr("print.layer_time_min 27 s, for all blocks"));
  }
  EXPECT_THAT(w.set.remarks[0], HasSubstr("print.layer_time_min of 27 s would make printable 2"));
}

TEST(PlanPrinting, WhatIsNotPrintedIsNamed) {
  Works w = works_of({{"a", 0, 1, 1, 1, 0.1}, {"bad", 0, 2, 1, 1, 0.1}, {"key", -1, 3, 1, 1, 0.1}});
  w.set.blocks[1].printable = false;
  w.set.blocks[1].reason = "layers too thin";
  w.set.blocks[2].way = PrintWay::kCast;
  w.set.blocks[2].reason = "three beds";
  plan_printing(w.brief, w.assembly, w.set);
  EXPECT_THAT(order_of(w), ElementsAre("a"));
  EXPECT_NEAR(w.set.print_s, 3600, 1e-9);
  EXPECT_THAT(w.set.remarks, ElementsAre("bad: not in the programme of printing",
                                         "key: cast, not in the programme of printing"));
}

TEST(PlanPrinting, NothingToPrintIsNoDay) {
  Works w = works_of({});
  plan_printing(w.brief, w.assembly, w.set);
  EXPECT_EQ(w.set.days, 0);
  EXPECT_TRUE(w.set.batches.empty());
}

TEST(PlanPrinting, BlocksPrintedFlatAreNamed) {
  Works w = works_of({{"a", 0, 1, 0, 1, 0.1}, {"b", 0, 2, 0, 1, 0.1}});
  w.set.blocks[1].way = PrintWay::kFlat;
  plan_printing(w.brief, w.assembly, w.set);
  EXPECT_THAT(w.set.remarks, ElementsAre(HasSubstr("b: printed flat, layers along the thrust")));
}

}  // namespace
}  // namespace skewback
