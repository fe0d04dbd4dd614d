#include "erect/calendar.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "erect/dates.hpp"
#include "erect/sample_network.hpp"
#include "erect/schedule.hpp"

namespace skewback {
namespace {

using sample::activity;

constexpr double kDay = 86400;

// 2027-03-01 is a Monday, 2027-03-26 a Friday, 2027-03-29 and 2027-05-03 are Mondays.
Calendar five_days() {
  return {"2027-03-01",
          {"mon", "tue", "wed", "thu", "fri"},
          {"2027-03-26", "2027-03-29", "2027-05-03"}};
}

std::string last_day(const Calendar& calendar, double from_day, double days) {
  return date_after("2027-03-01", calendar.finish(from_day * kDay, days * kDay) - 1);
}

// Expected: numpy.busday_offset(start, n - 1, roll="forward", holidays=...), NumPy 1.24.2.
TEST(Calendar, DaysOfWorkAsNumPyCountsBusinessDays) {
  const Calendar calendar = five_days();
  for (const auto& [days, date] : {std::pair{1, "2027-03-01"},
                                   {5, "2027-03-05"},
                                   {6, "2027-03-08"},
                                   {10, "2027-03-12"},
                                   {18, "2027-03-24"},
                                   {19, "2027-03-25"},
                                   {20, "2027-03-30"},
                                   {21, "2027-03-31"},
                                   {43, "2027-04-30"},
                                   {44, "2027-05-04"},
                                   {45, "2027-05-05"},
                                   {60, "2027-05-26"}})
    EXPECT_EQ(last_day(calendar, 0, days), date) << days;
  const int days[] = {1, 2, 3, 8};
  const std::pair<int, std::array<const char*, 4>> starts[] = {
      {5, {"2027-03-08", "2027-03-09", "2027-03-10", "2027-03-17"}},    // a Saturday
      {6, {"2027-03-08", "2027-03-09", "2027-03-10", "2027-03-17"}},    // a Sunday
      {23, {"2027-03-24", "2027-03-25", "2027-03-30", "2027-04-06"}},   // before a long weekend
      {25, {"2027-03-30", "2027-03-31", "2027-04-01", "2027-04-08"}}};  // a holiday
  for (const auto& [from, dates] : starts)
    for (std::size_t k = 0; k < 4; ++k)
      EXPECT_EQ(last_day(calendar, from, days[k]), dates[k]) << from << " " << days[k];
}

// Expected: numpy.busday_count.
TEST(Calendar, WorkBetweenTwoDays) {
  EXPECT_NEAR(five_days().work_between(0, 92 * kDay), 63 * kDay, 1e-6);
  const Calendar other("2027-03-01", {"mon", "tue", "wed", "thu", "sat"},
                       {"2027-03-26", "2027-03-29", "2027-05-03"});
  EXPECT_NEAR(other.work_between(12 * kDay, 40 * kDay), 19 * kDay, 1e-6);
  EXPECT_NEAR(other.work_between(40 * kDay, 12 * kDay), -19 * kDay, 1e-6);
}

/// Minute by minute: slower, and too simple to be wrong.
double walked(const Calendar& calendar, double from_s, double work_s) {
  double s = from_s, left_s = work_s;
  while (left_s > 0) {
    if (calendar.worked(static_cast<long>(std::floor(s / kDay)))) left_s -= 60;
    s += 60;
  }
  return s;
}

TEST(Calendar, FinishAndBeginAgreeWithAWalkByMinutes) {
  const Calendar calendar = five_days();
  for (int k = 0; k < 60; ++k) {
    const double from_s = 60.0 * ((k * 7919) % 100000) - 20 * kDay, work_s = 60.0 * (1 + k * k * 7);
    const double to_s = calendar.finish(from_s, work_s);
    EXPECT_NEAR(to_s, walked(calendar, from_s, work_s), 1e-3) << from_s << " " << work_s;
    const double late_s = calendar.begin(to_s, work_s);
    EXPECT_GE(late_s, from_s - 1e-3);
    EXPECT_NEAR(calendar.work_between(from_s, late_s), 0, 1e-3);
    EXPECT_NEAR(calendar.finish(late_s, work_s), to_s, 1e-3);
  }
}

TEST(Calendar, EveryDayIsPlainTime) {
  const Calendar every("2027-03-01", {}, {});
  EXPECT_TRUE(every.every_day() && Calendar().every_day());
  EXPECT_EQ(every.finish(4.5 * kDay, 3 * kDay), 7.5 * kDay);
  EXPECT_EQ(every.begin(4.5 * kDay, 3 * kDay), 1.5 * kDay);
  EXPECT_FALSE(five_days().every_day());
  EXPECT_FALSE(Calendar("2027-03-01", {}, {"2027-03-03"}).every_day());
}

TEST(Calendar, MomentsAreShownOnWorkedDays) {
  const Calendar calendar = five_days();
  EXPECT_EQ(calendar.on_a_worked_day(4.2 * kDay), 4.2 * kDay);
  EXPECT_EQ(calendar.on_a_worked_day(5 * kDay), 5 * kDay - 1);  // Friday's last second
  EXPECT_EQ(calendar.on_a_worked_day(6.3 * kDay), 7 * kDay);    // Monday
}

// Three days' work from a Thursday, then seven days of curing, then a day's work: Monday, Monday
// week, of which the last moment is Tuesday 0:00; the work is done on Tuesday the 16th. By hand.
TEST(Calendar, WorkStopsAtWeekendsAndCuringRunsOn) {
  Network network{
      "2027-03-04",
      {activity("print", 3 * kDay, 3 * kDay, 3 * kDay, {}),
       activity("cure", 7 * kDay, 7 * kDay, 7 * kDay, {0}),
       activity("place", kDay, kDay, kDay, {1}), activity("other", kDay, kDay, kDay, {})}};
  network.activities[0].kind = "print";
  network.activities[1].kind = "cure";
  network.activities[2].kind = "place";
  network.calendar = Calendar("2027-03-04", {"mon", "tue", "wed", "thu", "fri"}, {});
  const PertResult plan = pert(network);
  const std::vector<double> done = finishes(network, plan.mean_s);
  EXPECT_EQ(last_date(network, done[0]), "2027-03-08");
  EXPECT_EQ(last_date(network, done[1]), "2027-03-15");
  EXPECT_EQ(done_date(network, done[2]), "2027-03-16");
  EXPECT_NEAR(plan.duration_s, 13 * kDay, 1e-6);
  EXPECT_NEAR(plan.float_s[0], 0, 1e-6);
  EXPECT_NEAR(plan.float_s[3], 8 * kDay, 1e-6);  // nine worked days, one of them its own
  EXPECT_EQ(draw_programme(network, {}, 100, 1).finish_s.front(), plan.duration_s);
}

// One block of a day's placing from a Friday, which breaks for sure: half a day to print and to
// bring another (Friday noon), two of curing (Sunday noon); placed on Monday.
TEST(Calendar, ABrokenBlockIsPrintedOnWorkedDaysAndCuresOnAll) {
  Network network{"2027-03-05", {activity("place", kDay, kDay, kDay, {})}};
  network.calendar = Calendar("2027-03-05", {"mon", "tue", "wed", "thu", "fri"}, {});
  const Breakage breaks{0, 1, 2.5 * kDay, false, 0, 2 * kDay};
  EXPECT_NEAR(draw_programme(network, {breaks}, 100, 1).mean_s, 4 * kDay, 1e-6);
  network.calendar = {};
  EXPECT_NEAR(draw_programme(network, {breaks}, 100, 1).mean_s, 3.5 * kDay, 1e-6);
}

// Half a day to print another (Friday noon), two of curing (Sunday noon), a day's journey (Monday);
// placed on Tuesday. With the journey before the curing it would cure until Wednesday noon.
TEST(Calendar, ANewBlockIsBroughtAfterItHasCured) {
  Network network{"2027-03-05", {activity("place", kDay, kDay, kDay, {})}};
  network.calendar = Calendar("2027-03-05", {"mon", "tue", "wed", "thu", "fri"}, {});
  const Breakage breaks{0, 1, 3.5 * kDay, false, 0, 2 * kDay, kDay};
  EXPECT_NEAR(draw_programme(network, {breaks}, 100, 1).mean_s, 5 * kDay, 1e-6);
}

// sd of work 1 day, in a week of five: 7/5 of it on the calendar.
TEST(Calendar, SpreadOfWorkIsStretched) {
  Network network{"2027-03-01", {activity("a", kDay, 4 * kDay, 7 * kDay, {})}};
  EXPECT_NEAR(pert(network).sd_s, kDay, 1e-6);
  network.calendar = Calendar("2027-03-01", {"mon", "tue", "wed", "thu", "fri"}, {});
  EXPECT_NEAR(pert(network).sd_s, 1.4 * kDay, 1e-6);
}

}  // namespace
}  // namespace skewback
