#include "deliver/report_spares.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "deliver/json_parts.hpp"
#include "deliver/programme_sheets.hpp"
#include "deliver/report_print.hpp"
#include "deliver/sample_sheet.hpp"
#include "erect/sample_spares.hpp"

namespace skewback::deliver {
namespace {

using testing::HasSubstr;

const Spares& sample_plan() {
  static const Spares spares = sample::plan(sample::light_and_fragile());
  return spares;
}

TEST(ReportSpares, CriticalPathIsToldInRuns) {
  // footings and centring take 14.5 and 3.2 days; ten blocks at half a day, a week and a day 13.5
  EXPECT_EQ(critical_words(sample_plan()),
            "footings, centring put up, place b1 to b10 (10), striking, walkway");
}

TEST(ReportSpares, JsonHasTheRequiredKeysAndAgreesWithThePlan) {
  const sample::Row row = sample::light_and_fragile();
  const Spares& spares = sample_plan();
  const nlohmann::ordered_json json = spares_json(row.brief, spares);
  EXPECT_EQ(json["spares"].size(), static_cast<std::size_t>(spares.chosen));
  EXPECT_EQ(json["spares"][0], "b4");
  EXPECT_DOUBLE_EQ(json["duration_days"].get<double>() * 86400, spares.with.mean_s);
  EXPECT_EQ(json["spares_trials"].size(), spares.trials.size());
  EXPECT_LT(json["expected_delay_days"], json["spares_trials"][0]["expected_delay_days"]);
  EXPECT_TRUE(json["spares_trials"][0]["cost"].is_null());
}

TEST(ReportSpares, ARowAnActivity) {
  const std::string csv = programme_csv(sample_plan());
  EXPECT_EQ(static_cast<std::size_t>(std::count(csv.begin(), csv.end(), '\n')),
            sample_plan().network.activities.size() + 1);
  // fourteen days from the first of March
  EXPECT_THAT(csv, HasSubstr("footings,footings,,10.0000,14.0000,21.0000,2027-03-01"));
}

TEST(ReportSpares, DrawingsStayOnTheSheet) {
  const Spares& spares = sample_plan();
  for (const Sheet& sheet :
       {programme_sheet(spares, 174), spares_sheet(spares, 0.1, 174), finish_sheet(spares, 174)})
    sample::expect_on_sheet(sheet);
}

TEST(ReportSpares, AxesRunInRoundSteps) {
  EXPECT_DOUBLE_EQ(round_axis(9.3, 5).step, 2);
  EXPECT_DOUBLE_EQ(round_axis(9.3, 5).top, 10);
  EXPECT_DOUBLE_EQ(round_axis(0.42, 5).step, 0.1);
  EXPECT_EQ(round_axis(0.42, 5).decimals, 1);
  EXPECT_DOUBLE_EQ(round_axis(60, 6).top, 60);
}

// Footings of 10 to 21 worked days from Monday 2027-03-01: by the least time they are done on
// Friday the 12th. By hand.
TEST(ReportSpares, DatesKeepToTheWeek) {
  sample::Row row = sample::light_and_fragile();
  row.brief.programme.week = {"mon", "tue", "wed", "thu", "fri"};
  row.brief.programme.holidays = {"2027-03-26"};
  const Spares spares = sample::plan(row);
  const std::string csv = programme_csv(spares);
  const std::size_t at = csv.find("footings,footings");
  const std::string line = csv.substr(at, csv.find('\n', at) - at);
  EXPECT_THAT(line, HasSubstr(",2027-03-12,2027-03-18,"));  // 10 days; 14
  EXPECT_EQ(calendar_words(spares.network.calendar),
            "Worked on Monday, Tuesday, Wednesday, Thursday, Friday. Not on 2027-03-26. Curing "
            "runs on.");
  EXPECT_EQ(calendar_words(sample_plan().network.calendar), "Every day is worked.");
  sample::expect_on_sheet(programme_sheet(spares, 174));
}

/// Fields of the row of this activity.
std::vector<std::string> row_of(const std::string& csv, const std::string& activity) {
  const std::size_t at = csv.find("\n" + activity + ",") + 1;
  std::vector<std::string> fields(1);
  for (std::size_t i = at; i < csv.size() && csv[i] != '\n'; ++i) {
    if (csv[i] == ',')
      fields.emplace_back();
    else
      fields.back() += csv[i];
  }
  return fields;
}

// The order of printing and programme.csv are one plan: the same spares, the same days by planned
// times, and nothing lifted before it has cured by either.
TEST(ReportSpares, TheOrderOfPrintingIsThatOfTheProgramme) {
  constexpr std::size_t kDoneLikely = 9;
  sample::Row row = sample::light_and_fragile();
  row.brief.programme.wanted = row.brief.spares.wanted = true;
  row.brief.programme.week = {"mon", "tue", "wed", "thu", "fri"};
  row.brief.programme.holidays = {"2027-03-03"};
  row.brief.spares.count = 3;
  const Spares spares = sample::plan(row);
  const std::string csv = programme_csv(spares);
  const auto order = print_json(row.brief, row.print, &spares)["order"];
  ASSERT_EQ(order.size(), 13U);
  EXPECT_EQ(order.back()["working_day"], 7);
  const auto day = [](const nlohmann::ordered_json& date) {
    return *day_number(date.get<std::string>());
  };
  for (const auto& slot : order) {
    const std::string name =
        slot["id"].get<std::string>() + (slot["spare"].get<bool>() ? " again" : "");
    EXPECT_EQ(slot["date"], row_of(csv, "print " + name).at(kDoneLikely)) << name;
    EXPECT_GE(slot["lift_date"].get<std::string>(), row_of(csv, "cure " + name).at(kDoneLikely))
        << name;
    EXPECT_GE(day(slot["lift_date"]) - day(slot["date"]), row.brief.print.curing_s / 86400) << name;
    EXPECT_EQ(day(slot["lift_date"]) - day(slot["date"]), slot["lift_after_calendar_days"]) << name;
  }
  const auto rows = order_of_printing(row.brief, row.print, spares.printing);
  ASSERT_EQ(rows.size(), 13U);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    EXPECT_EQ(rows[i].at(2), order[i]["date"]);
    EXPECT_EQ(rows[i].back(), order[i]["lift_date"]);
  }
}

// Without a programme there are no dates: days of curing stand by themselves.
TEST(ReportSpares, WithoutAProgrammeCuringIsInCalendarDays) {
  const sample::Row row = sample::light_and_fragile();
  const auto rows = order_of_printing(row.brief, row.print, row.print);
  ASSERT_EQ(rows.size(), 10U);
  EXPECT_EQ(rows.back().at(2), "5");
  EXPECT_EQ(rows.back().back(), "7");
  EXPECT_TRUE(print_json(row.brief, row.print, nullptr)["order"][0]["lift_date"].is_null());
}

TEST(ReportSpares, WordsOfTheDrawsFollowTheSign) {
  EXPECT_THAT(against_means(0.41 * 86400, true), HasSubstr("0.4 days later"));
  EXPECT_THAT(against_means(-0.41 * 86400, true),
              HasSubstr("0.4 days earlier than by mean times: work"));
  EXPECT_EQ(against_means(-0.41 * 86400, false), "That is 0.4 days earlier than by mean times.");
  EXPECT_EQ(against_means(100, true), "That is as by mean times.");
}

TEST(ReportSpares, SameBytesTwice) {
  const sample::Row row = sample::light_and_fragile();
  const auto pdf = [&] {
    Pages pages("trial", 0);
    add_programme(pages, row.brief, row.assembly, sample_plan());
    return pages.finish();
  };
  EXPECT_EQ(pdf(), pdf());
}

}  // namespace
}  // namespace skewback::deliver
