// The rest of a programme in which some blocks are made twice; and what must hold of any.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>

#include "daybook/replan.hpp"
#include "daybook/sample_plan.hpp"

namespace skewback {
namespace {

using H = Happened;
using sample::kDay;
using sample::plan_with_network;
using Events = std::vector<BlockEvent>;

Moment moment(double day) {
  static const std::int64_t start = parse_moment("2027-03-01T00:00:00+02:00")->utc_s;
  return {start + std::llround(day * kDay), 7200};
}

BlockEvent event(const std::string& block, H what, double day, int copy = 1) {
  BlockEvent e;
  e.block = block;
  e.what = what;
  e.copy = copy;
  e.at = e.written = moment(day);
  return e;
}

Replan replan(const DayPlan& plan, Events events, double day) {
  for (std::size_t i = 0; i < events.size(); ++i)
    events[i].number = static_cast<std::int64_t>(i) + 1;
  return *replanned(plan, events, moment(day));
}

const Activity& named(const Replan& r, const std::string& id) {
  const auto it = std::ranges::find(r.network.activities, id, &Activity::id);
  if (it == r.network.activities.end()) throw std::runtime_error("no activity " + id);
  return *it;
}

/// Days on which it ends, by the likely times.
double ends(const Replan& r, const std::string& id) {
  std::vector<double> likely;
  for (const Activity& a : r.network.activities) likely.push_back(a.likely_s);
  const auto i = &named(r, id) - r.network.activities.data();
  return finishes(r.network, likely)[static_cast<std::size_t>(i)] / kDay;
}

/// Exact: over every set of blocks that may break, where no time is uncertain.
double mean_finish_s(const Replan& r) {
  double mean = 0;
  for (unsigned set = 0; set < 1U << r.breakages.size(); ++set) {
    std::vector<double> takes_s;
    for (const Activity& a : r.network.activities) takes_s.push_back(a.likely_s);
    double chance = 1;
    for (std::size_t k = 0; k < r.breakages.size(); ++k) {
      const Breakage& b = r.breakages[k];
      const bool breaks = (set >> k & 1U) != 0;
      chance *= breaks ? b.share : 1 - b.share;
      if (breaks) takes_s[static_cast<std::size_t>(b.place)] += b.spare ? b.swap_s : b.again_s;
    }
    mean += chance * std::ranges::max(finishes(r.network, takes_s));
  }
  return mean;
}

TEST(ReplanSpares, CopyTwoIsTheOneThatThePlanMakesAgain) {
  const DayPlan plan = plan_with_network({"a1", "key"});
  const Replan r = replan(plan, {event("a1", H::kPrinted, 0.5)}, 1);
  EXPECT_TRUE(named(r, "print a1").done);
  EXPECT_FALSE(named(r, "print a1 again").done);
  EXPECT_FALSE(named(r, "cure a1 again").started);
  EXPECT_DOUBLE_EQ(ends(r, "print a1 again"), 1.25);  // still on the table, before all others
  EXPECT_DOUBLE_EQ(ends(r, "print b1"), 1.5);
  const Replan both =
      replan(plan, {event("a1", H::kPrinted, 0.5), event("a1", H::kPrinted, 1, 2)}, 1);
  EXPECT_DOUBLE_EQ(named(both, "print a1 again").finish_s, kDay);
  EXPECT_TRUE(named(both, "cure a1 again").started);
  EXPECT_DOUBLE_EQ(ends(both, "cure a1"), 7.5);
  EXPECT_DOUBLE_EQ(ends(both, "cure a1 again"), 8);
  EXPECT_DOUBLE_EQ(ends(both, "print b1"), 1.25);
  EXPECT_EQ(both.done, 2);
}

TEST(ReplanSpares, ASpareThatIsStillToBeMadeTakesThePlaceOfTheBroken) {
  const DayPlan plan = plan_with_network({"a1"}, 0.5);
  const Replan r = replan(plan, {event("a1", H::kPrinted, 1), event("a1", H::kBroken, 2)}, 2);
  EXPECT_TRUE(r.again.empty());
  EXPECT_DOUBLE_EQ(ends(r, "cure a1 again"), 2 + 0.25 + 7);
  ASSERT_EQ(r.breakages.size(), 5U);
  EXPECT_FALSE(r.breakages[0].spare);  // it is no spare any more
}

// a1 stands, its spare was never printed, and b1 holds the work up: b1 is printed first.
TEST(ReplanSpares, WhatIsMissingIsPrintedBeforeASpareThatNothingWaitsFor) {
  const DayPlan plan = plan_with_network({"a1"}, 0.5);
  Events events;
  for (const auto& [what, day] :
       {std::pair{H::kPrinted, 1.0}, {H::kCured, 8.0}, {H::kShipped, 9.0}, {H::kReceived, 10.0}})
    events.push_back(event("a1", what, day));
  const auto check = [&](const Replan& r, double day) {
    EXPECT_THAT(r.spares_left_out, testing::ElementsAre("a1"));
    EXPECT_DOUBLE_EQ(ends(r, "print b1"), day + 0.25);
    EXPECT_DOUBLE_EQ(ends(r, "journey of b1"), day + 0.25 + 7 + 1);
    for (const Activity& a : r.network.activities) EXPECT_NE(a.id, "print a1 again");
  };
  const Replan here = replan(plan, events, 11);
  check(here, 11);
  EXPECT_FALSE(here.breakages[0].spare);  // a1 would have to be made once more
  Events broke = events;
  broke.push_back(event("a1", H::kBroken, 11.5));
  const Replan asked = replan(plan, broke, 12);  // now the spare is what is missing
  EXPECT_TRUE(asked.spares_left_out.empty());
  EXPECT_DOUBLE_EQ(ends(asked, "print a1 again"), 12.25);
  EXPECT_DOUBLE_EQ(ends(asked, "print b1"), 12.5);
  events.push_back(event("a1", H::kPlaced, 12));
  check(replan(plan, events, 13), 13);
}

// The key was printed out of its turn and broke: a1 and the others are placed before it.
TEST(ReplanSpares, WhatIsMadeAgainWaitsForWhatIsPlacedBeforeIt) {
  const DayPlan plan = plan_with_network({}, 0.5);
  const Replan r = replan(plan, {event("key", H::kPrinted, 0.25), event("key", H::kBroken, 1)}, 1);
  EXPECT_THAT(r.again, testing::ElementsAre("key"));
  EXPECT_DOUBLE_EQ(ends(r, "print a1"), 1.25);
  EXPECT_DOUBLE_EQ(ends(r, "print b2"), 2);
  EXPECT_DOUBLE_EQ(ends(r, "print key once more"), 2.25);
}

TEST(ReplanSpares, OneIsMadeAgainWhenBothBroke) {
  Events events;
  for (int copy : {1, 2})
    for (const auto& [what, day] :
         {std::pair{H::kPrinted, 1.0}, {H::kCured, 8.0}, {H::kShipped, 9.0}, {H::kReceived, 10.0}})
      events.push_back(event("a1", what, day, copy));
  events.push_back(event("a1", H::kBroken, 11));
  const DayPlan plan = plan_with_network({"a1"}, 0.5);
  const Replan one = replan(plan, events, 11);
  EXPECT_TRUE(one.again.empty());
  EXPECT_DOUBLE_EQ(ends(one, "place a1"), 11 + 0.5 + 0.5);  // footings first
  events.push_back(event("a1", H::kBroken, 12, 2));
  const Replan none = replan(plan, events, 12);
  EXPECT_THAT(none.again, testing::ElementsAre("a1"));
  EXPECT_DOUBLE_EQ(ends(none, "again a1"), 12 + 0.25 + 7 + 1);
  events.push_back(event("a1", H::kReprinted, 13, 3));
  const Replan third = replan(plan, events, 14);
  EXPECT_TRUE(third.again.empty());
  EXPECT_DOUBLE_EQ(ends(third, "journey of a1"), 13 + 7 + 1);
}

TEST(ReplanSpares, TheTableAndThePlacingKeepTheirOrder) {
  const DayPlan plan = plan_with_network({"b1"}, 0.5);
  // b1 before its turn: a2 still waits for a1 and for the second b1
  const Replan table = replan(plan, {event("b1", H::kPrinted, 0.25)}, 0.25);
  EXPECT_DOUBLE_EQ(ends(table, "print a1"), 0.5);
  EXPECT_DOUBLE_EQ(ends(table, "print b1 again"), 0.75);
  EXPECT_DOUBLE_EQ(ends(table, "print a2"), 1);
  EXPECT_DOUBLE_EQ(ends(table, "cure b1"), 7.25);  // not the table's work: it goes on
  // b1 in its place before a1 is: a2 still comes after a1
  Events events;
  for (const char* id : {"a1", "b1", "a2", "b2", "key"})
    for (const auto& [what, day] :
         {std::pair{H::kPrinted, 1.0}, {H::kCured, 8.0}, {H::kShipped, 9.0}, {H::kReceived, 10.0}})
      events.push_back(event(id, what, day));
  events.push_back(event("b1", H::kPlaced, 11));
  const Replan placing = replan(plan, events, 12);
  EXPECT_DOUBLE_EQ(ends(placing, "place a1"), 12.5 + 0.5);  // footings, which nothing proves yet
  EXPECT_DOUBLE_EQ(ends(placing, "place a2"), 13.5);
}

TEST(ReplanSpares, ABlockLeftBehindStillHasToCureWhileItsLorryIsOnTheRoad) {
  const DayPlan plan = plan_with_network({}, 0.5);
  const Replan r = replan(plan,
                          {event("a1", H::kPrinted, 1), event("a1", H::kCured, 8),
                           event("b1", H::kPrinted, 7), event("a1", H::kShipped, 9)},
                          9);
  EXPECT_DOUBLE_EQ(ends(r, "journey 1"), 10);
  EXPECT_DOUBLE_EQ(ends(r, "place a1"), 10.5);
  EXPECT_DOUBLE_EQ(ends(r, "place b1"), 7 + 7 + 1 + 0.5);
}

/// What may truly be written down, one after the other; now and then with paper lost.
Events any_history(const DayPlan& plan, std::mt19937& random, double& day) {
  const std::vector<std::string> works = works_of(plan);
  const H steps[] = {H::kPrinted, H::kPrinted,   H::kPrinted,  H::kCured,
                     H::kPacked,  H::kShipped,   H::kReceived, H::kReprinted,
                     H::kPlaced,  H::kTakenDown, H::kBroken,   H::kDone};
  Events events;
  const auto pick = [&](std::size_t n) { return random() % n; };
  const std::size_t tries = 5 + pick(120);
  for (std::size_t i = 0; i < tries; ++i) {
    const H what = steps[pick(std::size(steps))];
    const bool work = what == H::kDone;
    BlockEvent e = event(work ? works[pick(works.size())] : plan.blocks[pick(5)].id, what, day,
                         work ? 1 : 1 + static_cast<int>(pick(5) / 2));
    e.number = static_cast<std::int64_t>(events.size()) + 1;
    if (objection(plan, events, e, pick(4) == 0)) continue;
    events.push_back(e);
    day += 0.125 * static_cast<double>(pick(12));
  }
  return events;
}

std::string written(const Events& events) {
  std::string text;
  for (const BlockEvent& e : events)
    text += moment_text(e.at) + " " + copy_name(e.block, e.copy) + " " + word(e.what) + "\n";
  return text;
}

TEST(ReplanSpares, BadNewsNeverBringsTheEndNearer) {
  std::mt19937 random(7);
  int compared = 0, later = 0;
  for (int round = 0; round < 1000; ++round) {
    std::set<std::string> twice;
    for (const char* id : {"a1", "b1", "a2", "b2", "key"})
      if (random() % 2 == 0) twice.insert(id);
    const DayPlan plan = plan_with_network(twice, random() % 2 == 0 ? 0.5 : 14);
    double day = 0.5;
    const Events events = any_history(plan, random, day);
    const double before = mean_finish_s(replan(plan, events, day));
    for (const CopyLife& life : lives(plan, events)) {
      Events worse = events;
      worse.push_back(event(life.block, H::kBroken, day, life.copy));
      worse.back().number = static_cast<std::int64_t>(worse.size());
      if (objection(plan, events, worse.back(), false)) continue;
      const double after = mean_finish_s(replan(plan, worse, day));
      ++compared;
      later += after > before + 1 ? 1 : 0;
      ASSERT_GE(after, before - 1e-3) << written(worse) << "round " << round << ", " << life.block
                                      << "/" << life.copy << ", day " << day;
    }
  }
  EXPECT_GT(compared, 5000);
  EXPECT_GT(later, compared / 4);
}

// The same draws with and without: what is shown does not come nearer by chance either.
TEST(ReplanSpares, NorDoAnyOfTheFiguresDrawn) {
  std::mt19937 random(9);
  for (int round = 0; round < 25; ++round) {
    std::set<std::string> twice;
    for (const char* id : {"a1", "b1", "a2", "b2", "key"})
      if (random() % 2 == 0) twice.insert(id);
    const DayPlan plan = plan_with_network(twice, 0.5, 0.25);
    double day = 0.5;
    const Events events = any_history(plan, random, day);
    const Replan rest = replan(plan, events, day);
    const Draws before = draw_programme(rest.network, rest.breakages, 100, 1);
    for (const CopyLife& life : lives(plan, events)) {
      Events worse = events;
      worse.push_back(event(life.block, H::kBroken, day, life.copy));
      worse.back().number = static_cast<std::int64_t>(worse.size());
      if (objection(plan, events, worse.back(), false)) continue;
      const Replan after = replan(plan, worse, day);
      EXPECT_EQ(after.network.activities.size(), rest.network.activities.size());
      const Draws drawn = draw_programme(after.network, after.breakages, 100, 1);
      ASSERT_GE(drawn.mean_s, before.mean_s - 1e-3) << written(worse) << round;
      for (const double share : {0.1, 0.5, 0.9})
        ASSERT_GE(drawn.at(share), before.at(share) - 1e-3) << written(worse) << round;
    }
  }
}

/// Everything that must have been written for it to be done, each at its mean time in the plan.
Events as_planned(const DayPlan& plan, const std::vector<double>& mean_finish_s, std::size_t i) {
  const Network& network = *plan.network;
  const Activity& a = network.activities[i];
  const auto day = [&](const std::string& id) {
    const auto it = std::ranges::find(network.activities, id, &Activity::id);
    return mean_finish_s[static_cast<std::size_t>(it - network.activities.begin())] / kDay;
  };
  Events events;
  if (a.block.empty() && a.kind != "journey") {
    if (a.id == "striking") events.push_back(event("footings", H::kDone, day("footings")));
    events.push_back(event(a.id, H::kDone, day(a.id)));
    return events;
  }
  const bool carried = a.kind == "journey" || a.kind == "place";
  for (const PlannedBlock& b : plan.blocks) {
    const std::string lorry = b.order <= 3 ? "journey 1" : "journey 2";
    if (a.kind == "journey" ? lorry != a.id : b.id != a.block) continue;
    const int copy = a.id.ends_with(" again") ? 2 : 1;
    const std::string again = copy == 2 ? " again" : "";
    events.push_back(event(b.id, H::kPrinted, day("print " + b.id + again), copy));
    if (a.kind == "print") continue;
    events.push_back(event(b.id, H::kCured, day("cure " + b.id + again), copy));
    if (carried) events.push_back(event(b.id, H::kReceived, day(lorry), copy));
  }
  if (a.kind == "place") {
    events.push_back(event("footings", H::kDone, day("footings")));
    events.push_back(event(a.block, H::kPlaced, day(a.id)));
  }
  return events;
}

TEST(ReplanSpares, WhatIsDoneWhenItWasToBeDoneLeavesTheEndAsItWas) {
  for (const double footings : {0.5, 14.0})
    for (const std::set<std::string>& twice :
         {std::set<std::string>{}, {"a1", "key"}, {"a1", "b1", "a2", "b2", "key"}}) {
      const DayPlan plan = plan_with_network(twice, footings, 0.25);
      const PertResult whole = pert(*plan.network);
      const std::vector<double> finish = finishes(*plan.network, whole.mean_s);
      EXPECT_NEAR(pert(replan(plan, {}, 0).network).duration_s, whole.duration_s, 1);
      for (std::size_t i = 0; i < finish.size(); ++i) {
        const Replan r = replan(plan, as_planned(plan, finish, i), 0);
        EXPECT_TRUE(named(r, plan.network->activities[i].id).done);
        EXPECT_NEAR(pert(r.network).duration_s, whole.duration_s,
                    2)  // moments are of whole seconds
            << plan.network->activities[i].id << " " << twice.size() << " " << footings;
      }
    }
}

}  // namespace
}  // namespace skewback
