#include "daybook/replan.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <map>

#include "daybook/sample_plan.hpp"

namespace skewback {
namespace {

using H = Happened;
using sample::kDay;

BlockEvent event(const std::string& block, H what, double day, int copy = 1) {
  static const std::int64_t start = parse_moment("2027-03-01T00:00:00+02:00")->utc_s;
  BlockEvent e;
  e.block = block;
  e.what = what;
  e.copy = copy;
  e.at = e.written = {start + std::llround(day * kDay), 7200};
  return e;
}

Replan replan(std::vector<BlockEvent> events, double day,
              const DayPlan& plan = sample::plan_with_network()) {
  for (std::size_t i = 0; i < events.size(); ++i)
    events[i].number = static_cast<std::int64_t>(i) + 1;
  return *replanned(plan, events, event("", H::kNote, day).at);
}

const Activity& named(const Replan& r, const std::string& id) {
  const auto it = std::ranges::find(r.network.activities, id, &Activity::id);
  EXPECT_NE(it, r.network.activities.end()) << id;
  return *it;
}

/// Earliest finish in days, by hand: durations are certain in the sample.
std::map<std::string, double> finishes(const Replan& r) {
  std::vector<double> finish;
  std::map<std::string, double> days;
  for (const Activity& a : r.network.activities) {
    double start = 0;
    for (const int i : a.after) {
      EXPECT_LT(i, static_cast<int>(finish.size())) << a.id;
      start = std::max(start, finish[static_cast<std::size_t>(i)]);
    }
    finish.push_back(a.done ? a.finish_s : start + a.likely_s);
    days[a.id] = finish.back() / kDay;
  }
  return days;
}

TEST(Replan, NothingIsLeftBehindToday) {
  const auto days = finishes(replan({}, 3));
  EXPECT_DOUBLE_EQ(days.at("footings"), 17);
  EXPECT_DOUBLE_EQ(days.at("print a1"), 3.25);
  EXPECT_DOUBLE_EQ(days.at("print key"), 4.25);
  EXPECT_DOUBLE_EQ(days.at("cure key"), 11.25);
}

TEST(Replan, WhatIsDoneStaysAtItsDateOnTheClockOfThePlace) {
  const Replan r = replan({event("footings", H::kDone, 12.5), event("a1", H::kPrinted, 1.5)}, 13);
  EXPECT_TRUE(named(r, "footings").done);
  EXPECT_DOUBLE_EQ(named(r, "footings").finish_s, 12.5 * kDay);
  EXPECT_DOUBLE_EQ(named(r, "print a1").finish_s, 1.5 * kDay);
  EXPECT_TRUE(named(r, "cure a1").started);
  EXPECT_FALSE(named(r, "cure a1").done);
  EXPECT_EQ(r.done, 2);
  const auto days = finishes(r);
  EXPECT_DOUBLE_EQ(days.at("cure a1"), 8.5);     // since it was printed
  EXPECT_DOUBLE_EQ(days.at("print b1"), 13.25);  // not before today
  EXPECT_DOUBLE_EQ(days.at("journey 1"), 13.5 + 7 + 1);
}

TEST(Replan, ALorryOnTheRoadCountsFromWhenItLeft) {
  std::vector<BlockEvent> events;
  for (const char* id : {"a1", "b1", "a2"}) {
    events.push_back(event(id, H::kPrinted, 1));
    events.push_back(event(id, H::kCured, 8));
    events.push_back(event(id, H::kShipped, 9));
  }
  const Replan r = replan(events, 9.5);
  EXPECT_TRUE(named(r, "journey 1").started);
  EXPECT_DOUBLE_EQ(finishes(r).at("journey 1"), 10);
}

TEST(Replan, WhatFollowsProvesWhatWentBefore) {
  const Replan r =
      replan({event("a1", H::kPrinted, 1), event("a1", H::kCured, 8), event("a1", H::kShipped, 8.5),
              event("a1", H::kReceived, 9), event("a1", H::kPlaced, 20)},
             20);
  EXPECT_THAT(r.taken_as_done, testing::ElementsAre("footings"));
  EXPECT_DOUBLE_EQ(named(r, "journey 1").finish_s, 9 * kDay);
  EXPECT_TRUE(named(r, "place a1").done);
  EXPECT_EQ(r.breakages.size(), 4U);  // of those still to be placed
  // the lorry has gone without b1: printed from today, cured, and a journey of its own
  EXPECT_DOUBLE_EQ(finishes(r).at("journey of b1"), 20 + 0.25 + 7 + 1);
}

TEST(Replan, ABrokenBlockIsMadeAgainFromToday) {
  std::vector<BlockEvent> events;
  for (const char* id : {"a1", "b1", "a2", "b2", "key"})
    for (const auto& [what, day] :
         {std::pair{H::kPrinted, 1.0}, {H::kCured, 8.0}, {H::kShipped, 9.0}, {H::kReceived, 10.0}})
      events.push_back(event(id, what, day));
  events.push_back(event("footings", H::kDone, 14));
  events.push_back(event("a1", H::kPlaced, 15));
  events.push_back(event("b1", H::kBroken, 15.5));
  const Replan r = replan(events, 16);
  EXPECT_THAT(r.again, testing::ElementsAre("b1"));
  const auto days = finishes(r);
  EXPECT_DOUBLE_EQ(days.at("again b1"), 16 + 8.25);
  EXPECT_DOUBLE_EQ(days.at("place b1"), 24.75);
  EXPECT_DOUBLE_EQ(days.at("striking"), 24.25 + 4 * 0.5 + 1);
  // made again: goes on from there
  events.push_back(event("b1", H::kReprinted, 17, 2));
  const Replan later = replan(events, 18);
  EXPECT_TRUE(later.again.empty());
  EXPECT_DOUBLE_EQ(finishes(later).at("journey of b1"), 17 + 7 + 1);
}

// The plan makes none: a1 is there already. Another takes 9.5 days, 7 of curing and 1 on the road.
TEST(Replan, ABlockMadeElsewhereThatBreaksIsPrintedAndCured) {
  DayPlan plan = sample::small_plan();
  plan.blocks = {plan.blocks.front()};
  plan.blocks.front().made = "elsewhere";
  Network network;
  network.start = "2027-03-01";
  network.activities = {
      {"journey 1", "", "journey", kDay, kDay, kDay, {}, false, false, 0},
      {"place a1", "a1", "place", kDay / 2, kDay / 2, kDay / 2, {0}, false, false, 0}};
  plan.network = network;
  plan.breakages = {{"place a1", 0.03, 9.5 * kDay, 600, false, 7 * kDay, kDay}};
  std::vector<BlockEvent> events{event("a1", H::kReceived, 10), event("a1", H::kBroken, 15)};
  const auto days = finishes(replan(events, 16, plan));
  EXPECT_DOUBLE_EQ(days.at("print a1 once more"), 16 + 1.5);
  EXPECT_DOUBLE_EQ(days.at("again a1"), 16 + 1.5 + 7 + 1);
  EXPECT_DOUBLE_EQ(days.at("place a1"), 26);
  events.push_back(event("a1", H::kReprinted, 18, 2));
  EXPECT_DOUBLE_EQ(finishes(replan(events, 19, plan)).at("journey of a1"), 18 + 7 + 1);
}

// One table: what is made again goes on it first, and everything still to be printed waits; of two,
// the first to be placed. What is cast takes no table.
TEST(Replan, WhatIsMadeAgainTakesTheTable) {
  std::vector<BlockEvent> events;
  for (const char* id : {"a1", "b1"}) {
    events.push_back(event(id, H::kPrinted, 1));
    events.push_back(event(id, H::kBroken, 2));
  }
  DayPlan plan = sample::plan_with_network();
  Replan r = replan(events, 2, plan);
  EXPECT_THAT(r.again, testing::ElementsAre("a1", "b1"));
  auto days = finishes(r);
  EXPECT_DOUBLE_EQ(days.at("print a1 once more"), 2.25);
  EXPECT_DOUBLE_EQ(days.at("print b1 once more"), 2.5);
  EXPECT_DOUBLE_EQ(days.at("again b1"), 2.5 + 7 + 1);
  EXPECT_DOUBLE_EQ(days.at("print a2"), 2.75);
  EXPECT_DOUBLE_EQ(days.at("print key"), 3.25);
  for (Activity& a : plan.network->activities)
    if (a.id == "print a1") a.kind = "cast";
  r = replan(events, 2, plan);
  days = finishes(r);
  EXPECT_DOUBLE_EQ(days.at("cast a1 once more"), 2.25);
  EXPECT_DOUBLE_EQ(days.at("print b1 once more"), 2.25);
  EXPECT_DOUBLE_EQ(days.at("print a2"), 2.5);
}

TEST(Replan, ASpareThatIsThereIsCounted) {
  const Replan r = replan({event("a1", H::kPrinted, 1), event("a1", H::kPrinted, 2, 2)}, 3);
  ASSERT_EQ(r.breakages.size(), 5U);
  const auto place = static_cast<std::size_t>(r.breakages[0].place);
  EXPECT_EQ(r.network.activities[place].id, "place a1");
  EXPECT_TRUE(r.breakages[0].spare);
  EXPECT_FALSE(r.breakages[1].spare);
}

// One copy is no spare of itself; a planned spare is one only until a copy broke.
TEST(Replan, OneCopyIsNoSpare) {
  EXPECT_FALSE(replan({event("a1", H::kPrinted, 1)}, 3).breakages[0].spare);
  DayPlan plan = sample::plan_with_network();
  plan.breakages[0].spare = true;
  EXPECT_TRUE(replan({event("a1", H::kPrinted, 1)}, 3, plan).breakages[0].spare);
  const std::vector<BlockEvent> broke{event("a1", H::kPrinted, 1), event("a1", H::kPrinted, 2, 2),
                                      event("a1", H::kBroken, 2.5)};
  EXPECT_FALSE(replan(broke, 3, plan).breakages[0].spare);
}

// It broke on its table: the lorry that was to bring it has not come for that. It leaves today with
// the two others.
TEST(Replan, ABrokenBlockProvesNoLorry) {
  std::vector<BlockEvent> events;
  for (const char* id : {"a1", "b1", "a2"}) {
    events.push_back(event(id, H::kPrinted, 1));
    events.push_back(event(id, H::kCured, 8));
  }
  events.push_back(event("a1", H::kBroken, 8.5));
  const Replan r = replan(events, 9);
  EXPECT_FALSE(named(r, "journey 1").done);
  EXPECT_DOUBLE_EQ(finishes(r).at("journey 1"), 10);
}

/// Earliest finish in days on the network's own calendar, by likely times.
double ends_on_calendar(const Replan& r, const std::string& id) {
  std::vector<double> likely;
  for (const Activity& a : r.network.activities) likely.push_back(a.likely_s);
  const auto i = static_cast<std::size_t>(&named(r, id) - r.network.activities.data());
  return skewback::finishes(r.network, likely)[i] / kDay;
}

// 2027-03-01 is a Monday. Five blocks of a quarter day from Friday the 5th on: four that day, the
// fifth on Monday the 8th; it cures for seven days, a weekend among them; its lorry goes a day of
// work.
TEST(Replan, WorkStopsOnIdleDaysAndCuringDoesNot) {
  DayPlan plan = sample::plan_with_network();
  plan.network->calendar = Calendar("2027-03-01", {"mon", "tue", "wed", "thu", "fri"}, {});
  const Replan r = replan({}, 4, plan);
  EXPECT_NEAR(ends_on_calendar(r, "print b2"), 5, 1e-9);
  EXPECT_NEAR(ends_on_calendar(r, "print key"), 7.25, 1e-9);
  EXPECT_NEAR(ends_on_calendar(r, "cure key"), 14.25, 1e-9);
  EXPECT_NEAR(ends_on_calendar(r, "journey 2"), 15.25, 1e-9);
  // 14 days of work from a Friday: that one, two weeks, and three days
  EXPECT_NEAR(ends_on_calendar(r, "footings"), 7 * 3 + 3, 1e-9);
}

// Every copy broke on Saturday: printed on Monday, cured on the Monday after, on site on Tuesday.
TEST(Replan, WhatIsMadeAgainWaitsForTheWeekToBegin) {
  DayPlan plan = sample::plan_with_network();
  plan.network->calendar = Calendar("2027-03-01", {"mon", "tue", "wed", "thu", "fri"}, {});
  const Replan r = replan({event("a1", H::kPrinted, 1), event("a1", H::kBroken, 5.5)}, 5.5, plan);
  EXPECT_NEAR(ends_on_calendar(r, "print a1 once more"), 7.25, 1e-9);
  EXPECT_NEAR(ends_on_calendar(r, "again a1"), 7.25 + 7 + 1, 1e-9);
}

TEST(Replan, NeedsANetwork) {
  EXPECT_FALSE(replanned(sample::small_plan(), {}, event("", H::kNote, 1).at));
}

}  // namespace
}  // namespace skewback
