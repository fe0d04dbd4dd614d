#include "deliver/report_print.hpp"

#include <gtest/gtest.h>

#include "assembly/sample_arch.hpp"
#include "deliver/sample_pages.hpp"
#include "deliver/sample_print.hpp"

namespace skewback::deliver {
namespace {

TEST(ReportPrint, SummaryCountsEachWay) {
  const Assembly assembly = sample::arch_assembly({});
  const std::string text = print_summary(sample::small_print(assembly));
  EXPECT_EQ(
      text.find("5 of 7 blocks can be printed: 4 from bed to bed, 1 flat. 1 cast; 1 neither."), 0U)
      << text;
  EXPECT_NE(text.find("2 working days, 3 mixes."), std::string::npos) << text;
}

TEST(ReportPrint, FiguresInUnitsOfTheShop) {
  EXPECT_EQ(in_words(0.0123, "m"), "12.30 mm");
  EXPECT_EQ(in_words(0.41, "rad"), "23.5 degrees");
  EXPECT_EQ(in_words(23.49, "degrees"), "23.5 degrees");
  EXPECT_EQ(in_words(1400, "Pa"), "1.40 kPa");
  EXPECT_EQ(in_words(0.25, "m/s"), "250 mm/s");
  EXPECT_EQ(in_words(3, "1"), "3.000 1");
}

TEST(ReportPrint, TheWorstCheckIsNearestItsLimit) {
  BlockPrint block;
  EXPECT_EQ(worst_check(block), nullptr);
  block.checks = {{"a", 0.8, 1, "m", false, "", ""},
                  {"b", 5, 4.5, "m", true, "", ""},  // 0.9 of what there is
                  {"c", -1, 1, "m", false, "", ""}};
  EXPECT_EQ(worst_check(block)->name, "b");
  block.checks.push_back({"d", -0.1, 0.005, "m", true, "", ""});  // fails: less than nothing
  EXPECT_EQ(worst_check(block)->name, "d");
}

// The planner waits up to the least time of a layer, so it is at its limit in every block.
TEST(ReportPrint, WhatThePlannerSeeksIsNotNearestItsLimit) {
  BlockPrint block;
  block.checks = {{"a", 0.8, 1, "m", false, "", ""},
                  {"layer time, least", 30, 30, "s", true, "", "", true, true}};
  EXPECT_EQ(worst_check(block)->name, "a");
  block.checks[1].value = 20;
  EXPECT_EQ(worst_check(block)->name, "layer time, least");
}

TEST(ReportPrint, SaysHowTheFarBedIsMadeTrueWithItsTolerance) {
  PrintRequest cell;
  cell.bed_accuracy_m = 0.0015;
  std::vector<std::string> all;
  for (const char* way : {"as printed", "levelled", "ground", "pad"}) {
    cell.far_bed = way;
    all.push_back(far_bed_words(cell));
    EXPECT_NE(all.back().find("1.5 mm"), std::string::npos);
  }
  EXPECT_NE(all[2].find("2.0 mm over its plane"), std::string::npos) << all[2];
  cell.far_bed = "ground";
  cell.grind_allowance_m = 0;
  EXPECT_NE(far_bed_words(cell).find("without an allowance"), std::string::npos);
  std::ranges::sort(all);
  EXPECT_EQ(std::ranges::unique(all).size(), 0U);
}

TEST(ReportPrint, MixesSayWhatIsUsedAndWhatFullOnesHold) {
  PrintPlan plan;
  plan.batches = {{{"a"}, 0.13, 1}, {{"a", "b"}, 0.08, 1}};
  PrintRequest cell;
  cell.batch_m3 = 0.15;
  EXPECT_EQ(mixes_words(cell, plan)
                .find("2 mixes, of which blocks and test pieces take 210 L; "
                      "full batches of 150 L would be 300 L."),
            0U)
      << mixes_words(cell, plan);
}

TEST(ReportPrint, LowFlowAndBoardsAreSaid) {
  const Assembly assembly = sample::arch_assembly({});
  const PrintSet set = sample::small_print(assembly);
  Brief brief;
  EXPECT_EQ(low_flow_words(brief.print, set).find("The pump goes down to "), 0U);
  EXPECT_NE(boards_words(brief, set, set).find(" boards at once"), std::string::npos);
  EXPECT_EQ(low_flow_words(brief.print, {}), "");
  EXPECT_EQ(boards_words(brief, {}, {}), "");
}

TEST(ReportPrint, PagesAreTheSameEveryTime) {
  const Assembly assembly = sample::arch_assembly({});
  expect_same_pages([&](Pages& pages) {
    add_print(pages, {}, assembly, sample::small_print(assembly));
    EXPECT_GT(pages.page(), 2);
  });
}

}  // namespace
}  // namespace skewback::deliver
