#include "deliver/report_tolerances.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "deliver/sample_sheet.hpp"
#include "deliver/tolerance_sheets.hpp"

namespace skewback::deliver {
namespace {

using testing::HasSubstr;

/// A report filled by hand, four draws proved.
ToleranceReport sample_report() {
  ToleranceReport report;
  report.draws = 400;
  report.proved = 4;
  report.key_by_itself = {0.3125, 0.0232};
  report.goes_in = {0.95, 0.0109};
  report.stands = {0.75, 0.2};
  for (int i = 0; i < report.draws; ++i) {
    const double x = std::sin(i * 12.9898) * 0.5 + std::sin(i * 7.123) * 0.5;
    report.key_gap_m.push_back(0.012 * x);
    report.packers_m.push_back(0.02 * std::abs(x));
    report.thickest_m.push_back(0.01 * std::abs(x));
  }
  report.load_factor = {2.31, 2.4, 2.52};
  report.load_factor_of = {0, 1, 3};
  report.trade_draws = 200;
  report.on_trade_draws = {0.3, 0.032};
  report.trades = {
      {"footing_plan", 0.01, {0.5, 0.035}, {0.7, 0.032}, 0.0025, 0.0061, 0.002, 0.003, 0.001},
      {"footing_turn", 0.0034906585, {0.33, 0.03}, {0.34, 0.03}, 0.00087, 0.0021, 0, 0.004, 0.004},
      {"pad", 0.05, {0.3, 0.03}, {0.3, 0.03}, 0.0125, 0.0003, 0, 0.0045, 0.0044}};
  report.packed_draws = 100;
  report.packers_mean_m = 0.0046;
  report.budget_scale_packed = 4;
  report.budget_scale = 0.25;
  report.remarks = {"a remark"};
  return report;
}

TEST(ReportTolerances, HistogramSharesSumToOneInRoundSteps) {
  const Histogram h = histogram({0.1, 0.2, 0.2, 1.1, 2.95}, 10);
  EXPECT_DOUBLE_EQ(h.step, 0.5);  // 2.85 in ten steps at most
  EXPECT_DOUBLE_EQ(h.low, 0);
  ASSERT_EQ(h.share.size(), 6u);
  EXPECT_DOUBLE_EQ(h.share[0], 0.6);
  EXPECT_DOUBLE_EQ(h.share[2], 0.2);
  EXPECT_DOUBLE_EQ(h.share[5], 0.2);
  EXPECT_DOUBLE_EQ(h.high(), 3);
  EXPECT_LT(histogram({-1.2, 3.0}, 5).low, -1.2 + 1e-12);
  const Histogram one = histogram({2, 2, 2}, 10);
  ASSERT_EQ(one.share.size(), 1u);
  EXPECT_DOUBLE_EQ(one.share[0], 1);
  EXPECT_GT(histogram({20 - 1e-8, 20}, 10).step, 1);  // one value but for rounding
  EXPECT_TRUE(histogram({}, 10).share.empty());
}

TEST(ReportTolerances, FiguresCarryTheUnitOfTheirError) {
  EXPECT_EQ(figure_words("footing_plan", 0.01), "10.00 mm");
  EXPECT_EQ(figure_words("footing_turn", 0.0034906585), "0.200 degrees");
  EXPECT_EQ(figure_words("pad", 0.05), "5.00 %");
  for (const std::string& name : error_names()) EXPECT_NE(trade_words(name), name);
}

TEST(ReportTolerances, JsonSaysWhatTheReportHolds) {
  const nlohmann::ordered_json json = tolerances_json({}, sample_report());
  EXPECT_EQ(json["draws"], 400);
  EXPECT_DOUBLE_EQ(json["key_by_itself"]["share"], 0.3125);
  EXPECT_DOUBLE_EQ(json["trades"][0]["now"], 10);
  EXPECT_EQ(json["trades"][0]["unit"], "mm");
  EXPECT_DOUBLE_EQ(json["trades"][0]["gap_alone_m"], 0.0061);
  EXPECT_NEAR(json["trades"][1]["now"], 0.2, 1e-9);
  EXPECT_DOUBLE_EQ(json["trades"][2]["budget"], 0.0125);
  ToleranceReport none = sample_report();
  none.budget_scale = 0;
  none.proved = 0;
  EXPECT_TRUE(tolerances_json({}, none)["budget_scale"].is_null());
  EXPECT_TRUE(tolerances_json({}, none)["trades"][0]["budget"].is_null());
  EXPECT_TRUE(tolerances_json({}, none)["stands"].is_null());
}

TEST(ReportTolerances, ADrawARow) {
  const std::vector<OutputFile> files = tolerance_files({}, sample_report());
  ASSERT_EQ(files.size(), 4u);
  const std::string& draws = files[0].bytes;
  EXPECT_EQ(std::count(draws.begin(), draws.end(), '\n'), 401);
  EXPECT_THAT(draws, HasSubstr("\r\n0,0.000,0.000,0.000,2.3100\r\n"));
  // the third draw was proved and has no factor; the fourth has
  EXPECT_THAT(draws, testing::ContainsRegex("\n2,[-0-9.]+,[0-9.]+,[0-9.]+,\r\n3,.*,2.5200\r\n"));
  EXPECT_THAT(
      files[1].bytes,
      HasSubstr(
          "footing_plan,mm,10.0000,2.5000,40.0000,6.1000,2.0000,0.50000,0.70000,3.0000,1.0000"));
}

TEST(ReportTolerances, DrawingsStayOnTheSheet) {
  ToleranceReport flat;  // nothing drawn moved anything
  flat.draws = 2;
  flat.key_gap_m = flat.packers_m = flat.thickest_m = {0, 0};
  for (const ToleranceReport& report : {sample_report(), flat}) {
    for (const Sheet& sheet : {tolerance_draws_sheet({}, report, 174), trades_sheet(report, 174)})
      sample::expect_on_sheet(sheet);
  }
}

TEST(ReportTolerances, SameBytesTwice) {
  const auto pdf = [] {
    Pages pages("trial", 0);
    add_tolerances(pages, {}, sample_report());
    return pages.finish();
  };
  const std::string once = pdf();
  EXPECT_GT(once.size(), 1000u);
  EXPECT_EQ(once, pdf());
}

}  // namespace
}  // namespace skewback::deliver
