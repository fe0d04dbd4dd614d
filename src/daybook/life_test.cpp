#include "daybook/life.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "daybook/sample_diary.hpp"

namespace skewback {
namespace {

using H = Happened;
using sample::Diary;
using sample::Founded;

TEST(Lives, WorksComeAfterWhatThePlanHasBeforeThem) {
  Diary d;
  EXPECT_EQ(d.say("footings", H::kDone), "");
  d.make("a1");
  EXPECT_EQ(d.say("a1", H::kPlaced), "");
  EXPECT_THAT(d.say("striking", H::kDone),
              testing::AllOf(testing::HasSubstr("b1, a2, b2 and 1 more are not in place"),
                             testing::HasSubstr("--even-so")));
  d.make("b1");  // on site is not in place
  EXPECT_THAT(d.say("striking", H::kDone), testing::HasSubstr("b1, a2, b2 and 1 more"));
  EXPECT_EQ(d.say("striking", H::kDone, 1, true), "");
}

TEST(Lives, AWorkComesAfterTheWorkBeforeIt) {
  Founded d;
  Network& network = *d.plan.network;
  Activity walkway;
  walkway.id = walkway.kind = "walkway";
  walkway.after = {static_cast<int>(network.activities.size()) - 1};
  network.activities.push_back(walkway);
  for (const char* block : {"a1", "b1", "a2", "b2", "key"}) {
    d.make(block);
    EXPECT_EQ(d.say(block, H::kPlaced), "");
  }
  EXPECT_THAT(d.say("walkway", H::kDone), testing::HasSubstr("striking is not recorded as done"));
  EXPECT_EQ(d.say("striking", H::kDone), "");
  EXPECT_EQ(d.say("walkway", H::kDone), "");
}

TEST(Life, GoesFromTheTableToItsPlaceAndBack) {
  Founded d;
  d.make("a1");
  EXPECT_EQ(d.say("a1", H::kPlaced), "");
  EXPECT_EQ(d.standing("a1"), Standing::kPlaced);
  EXPECT_EQ(d.say("a1", H::kTakenDown), "");
  EXPECT_EQ(d.say("a1", H::kPlaced), "");
  EXPECT_EQ(d.say("a1", H::kTakenDown), "");
  EXPECT_EQ(d.say("a1", H::kPacked), "");  // the bridge moves
}

TEST(Life, TakesNoStepBeforeTheOneItRestsOn) {
  Diary d;
  EXPECT_THAT(d.say("a1", H::kCured), testing::HasSubstr("not made"));
  EXPECT_EQ(d.say("a1", H::kPrinted), "");
  EXPECT_THAT(d.say("a1", H::kPrinted), testing::HasSubstr("a second one is a1/2"));
  EXPECT_THAT(d.say("a1", H::kPlaced),
              testing::AllOf(testing::HasSubstr("found printed"), testing::HasSubstr("on site"),
                             testing::HasSubstr("--even-so")));
  EXPECT_THAT(d.say("a1", H::kTakenDown), testing::HasSubstr("expected placed"));
  EXPECT_THAT(d.say("a1", H::kTakenDown, 1, true), testing::HasSubstr("expected placed"));
  EXPECT_EQ(d.say("a1", H::kPlaced, 1, true), "");
  EXPECT_THAT(d.say("a1", H::kReceived, 1, true), testing::HasSubstr("placed"));
}

TEST(Life, ABrokenBlockStaysBroken) {
  Founded d;
  d.make("a1");
  EXPECT_EQ(d.say("a1", H::kBroken), "");
  for (const bool even_so : {false, true})
    EXPECT_THAT(d.say("a1", H::kPlaced, 1, even_so), testing::HasSubstr("a1/2")) << even_so;
  EXPECT_EQ(d.standing("a1"), Standing::kBroken);
  EXPECT_THAT(d.say("b1", H::kReprinted), testing::HasSubstr("no broken copy"));
  EXPECT_EQ(d.say("a1", H::kReprinted, 2), "");
  d.to_site("a1", 2);
  EXPECT_EQ(d.say("a1", H::kPlaced, 2), "");
  EXPECT_EQ(d.standing("a1"), Standing::kPlaced);
}

TEST(Life, OnePlaceHoldsOneCopy) {
  Founded d;
  d.make_twice("a1");
  EXPECT_EQ(d.say("a1", H::kPlaced), "");
  EXPECT_THAT(d.say("a1", H::kPlaced, 2, true), testing::HasSubstr("another copy"));
}

TEST(Life, NeighboursComeFirstAndGoLast) {
  Founded d;
  d.make("a1");
  d.make("a2");
  EXPECT_THAT(d.say("a2", H::kPlaced), testing::HasSubstr("not in place yet: a1"));
  EXPECT_EQ(d.say("a1", H::kPlaced), "");
  EXPECT_EQ(d.say("a2", H::kPlaced), "");
  EXPECT_THAT(d.say("a1", H::kTakenDown), testing::HasSubstr("still in place: a2"));
  EXPECT_EQ(d.say("a1", H::kTakenDown, 1, true), "");
}

TEST(Life, NamesTheNearestBlock) {
  Diary d;
  EXPECT_THAT(d.say("kye", H::kPrinted), testing::HasSubstr("did you mean \"key\"?"));
  EXPECT_THAT(d.say("footing", H::kDone), testing::HasSubstr("did you mean \"footings\"?"));
  EXPECT_THAT(d.say("footings", H::kPlaced), testing::HasSubstr("no block"));
  EXPECT_EQ(d.say("footings", H::kDone), "");
  EXPECT_THAT(d.say("footings", H::kDone), testing::HasSubstr("done already"));
}

TEST(Life, TimeRunsForwards) {
  Diary d;
  d.make("a1");
  d.clock -= 100 * 3600;
  EXPECT_THAT(d.say("a1", H::kPlaced), testing::HasSubstr("before it was"));
  BlockEvent e;
  e.number = 99;
  e.block = "a1";
  e.what = H::kNote;
  e.written = {d.clock, 0};
  e.at = {d.clock + 301, 0};
  EXPECT_THAT(d.keep(e, true), testing::HasSubstr("still to come"));
}

TEST(Life, ACorrectionTakesBackTheLastStep) {
  Diary d;
  d.make("a1");  // events 1 to 6
  EXPECT_THAT(d.cancel(5), testing::HasSubstr("cancel 6 first"));
  EXPECT_THAT(d.cancel(77), testing::HasSubstr("not there"));
  EXPECT_EQ(d.cancel(6), "");
  EXPECT_EQ(d.standing("a1"), Standing::kOnTheRoad);
  EXPECT_THAT(d.cancel(6), testing::HasSubstr("taken back"));
  EXPECT_THAT(d.cancel(7), testing::HasSubstr("taken back"));  // no correction of a correction
  EXPECT_EQ(d.say("a1", H::kReceived), "");
  EXPECT_EQ(d.standing("a1"), Standing::kOnSite);
}

// What brings a copy back to its place asks what placing it would ask.
TEST(Life, ACorrectionPutsNoBlockWhereAnotherIsOrNothingHoldsIt) {
  Founded d;
  d.make_twice("a1");
  EXPECT_EQ(d.say("a1", H::kPlaced), "");
  EXPECT_EQ(d.say("a1", H::kTakenDown), "");
  const std::int64_t down = d.events.back().number;
  EXPECT_EQ(d.say("a1", H::kPlaced, 2), "");
  EXPECT_THAT(d.cancel(down), testing::HasSubstr("another copy in its place"));
  EXPECT_THAT(d.cancel(down, true), testing::HasSubstr("another copy in its place"));
  d.make("a2");
  EXPECT_EQ(d.say("a2", H::kPlaced), "");
  const std::int64_t placed = d.events.back().number;
  EXPECT_EQ(d.say("a2", H::kBroken), "");
  EXPECT_EQ(d.say("a1", H::kTakenDown, 2), "");
  EXPECT_THAT(d.cancel(placed + 1), testing::HasSubstr("not in place yet: a1"));
  EXPECT_EQ(d.cancel(down), "");  // the place is empty now
  EXPECT_EQ(d.cancel(placed + 1), "");
  EXPECT_EQ(d.standing("a2"), Standing::kPlaced);
  EXPECT_THAT(d.cancel(down - 1), testing::HasSubstr("still in place: a2"));
  EXPECT_EQ(d.cancel(down - 1, true), "");
}

// A look in the works says nothing of what the journey did, nor of what taking down did.
TEST(Life, AJourneyAndTakingDownAskForANewLook) {
  Founded d;
  const auto checked = [&] { return foremost(lives(d.plan, d.events), "a1").checked; };
  EXPECT_EQ(d.say("a1", H::kPrinted), "");
  EXPECT_EQ(d.say("a1", H::kCured), "");
  EXPECT_EQ(d.say("a1", H::kChecked), "");
  EXPECT_TRUE(checked());
  EXPECT_EQ(d.say("a1", H::kShipped), "");
  EXPECT_FALSE(checked());
  EXPECT_EQ(d.say("a1", H::kReceived), "");
  EXPECT_EQ(d.say("a1", H::kChecked), "");
  EXPECT_EQ(d.say("a1", H::kPlaced), "");
  EXPECT_TRUE(checked());
  EXPECT_EQ(d.say("a1", H::kTakenDown), "");
  EXPECT_FALSE(checked());
  const std::int64_t down = d.events.back().number;
  EXPECT_EQ(d.say("a1", H::kChecked), "");
  EXPECT_TRUE(checked());
  EXPECT_EQ(d.cancel(down + 1), "");
  EXPECT_FALSE(checked());
  EXPECT_EQ(d.say("a1", H::kChecked), "");
  EXPECT_EQ(d.say("a1", H::kBroken), "");
  EXPECT_FALSE(checked());
}

TEST(Life, CountsCopiesThatLeftTheTable) {
  Diary d;
  d.make("a1");
  d.make("b1");
  EXPECT_EQ(d.say("a2", H::kPrinted), "");
  EXPECT_EQ(d.say("a1", H::kBroken), "");
  EXPECT_EQ(d.say("a1", H::kReprinted, 2), "");
  EXPECT_EQ(count_broken(d.events).handled, 2);
  EXPECT_EQ(count_broken(d.events).broken, 1);
  EXPECT_EQ(d.say("a2", H::kBroken), "");  // on its table
  EXPECT_EQ(count_broken(d.events).handled, 3);
  EXPECT_EQ(count_broken(d.events).broken, 2);
}

TEST(Now, SaysWhatCanBePlacedAndWhatIsMissing) {
  Founded d;
  for (const char* id : {"a1", "b1", "b2", "key"}) d.make(id);
  EXPECT_EQ(d.say("a1", H::kPlaced), "");
  const NowReport r = what_now(d.plan, d.events, {d.clock, 0});
  EXPECT_EQ(r.placed, 1);
  EXPECT_EQ(r.on_site, 3);
  EXPECT_EQ(*r.next, "b1");
  EXPECT_THAT(r.can_be_placed, testing::ElementsAre("b1"));
  EXPECT_THAT(r.not_yet, testing::ElementsAre("b2", "key"));
  ASSERT_TRUE(r.missing);
  EXPECT_EQ(r.missing->block, "a2");
  EXPECT_EQ(r.missing->standing, Standing::kNotMade);
  EXPECT_EQ(r.missing->held_back, 1);  // the key
  EXPECT_EQ(r.missing->held_on_site, 1);
  EXPECT_DOUBLE_EQ(r.missing->ready_s, 8.25 * sample::kDay);
}

// a2 rests on a1, the key on a2 and b2.
TEST(Now, WarnsOfWhatIsPlacedOverWhatIsMissing) {
  Founded d;
  for (const char* id : {"a1", "b1", "a2", "b2", "key"}) {
    d.make(id);
    EXPECT_EQ(d.say(id, H::kPlaced), "");
    EXPECT_TRUE(what_now(d.plan, d.events, {d.clock, 0}).placed_over.empty()) << id;
  }
  EXPECT_EQ(d.say("b2", H::kBroken), "");
  EXPECT_EQ(d.say("a2", H::kBroken), "");
  EXPECT_EQ(d.say("a1", H::kBroken), "");
  const NowReport r = what_now(d.plan, d.events, {d.clock, 0});
  EXPECT_EQ(r.placed, 2);
  ASSERT_EQ(r.placed_over.size(), 1U);  // a2 is gone itself
  EXPECT_EQ(r.placed_over[0].block, "key");
  EXPECT_THAT(r.placed_over[0].missing, testing::ElementsAre("a2", "b2"));
}

TEST(Now, CountsDownWhileABlockCuresAndTravels) {
  Diary d;
  EXPECT_EQ(d.say("a1", H::kPrinted), "");
  const auto after = [&](double days) {
    return what_now(d.plan, d.events, {d.clock + std::llround(days * sample::kDay), 0})
        .missing->ready_s;
  };
  EXPECT_DOUBLE_EQ(after(2), 6 * sample::kDay);  // 5 of curing and the journey
  EXPECT_DOUBLE_EQ(after(9), 1 * sample::kDay);
  EXPECT_EQ(d.say("a1", H::kCured), "");
  EXPECT_EQ(d.say("a1", H::kShipped), "");
  EXPECT_DOUBLE_EQ(after(0.25), 0.75 * sample::kDay);
  EXPECT_DOUBLE_EQ(after(3), 0);
}

// Not made on a Friday evening (2027-03-05, 18 h): a quarter day to print, the last of Friday;
// seven days' curing end on a Saturday, the lorry drives on Monday.
TEST(Now, TellsWhenItCouldBeHereByThePlansWeek) {
  DayPlan plan = sample::plan_with_network();
  plan.network->calendar = Calendar("2027-03-01", {"mon", "tue", "wed", "thu", "fri"}, {});
  const Moment now = *parse_moment("2027-03-05T18:00:00Z");
  EXPECT_NEAR(what_now(plan, {}, now).missing->ready_s, (0.25 + 7 + 2 + 1) * sample::kDay, 1e-3);
}

TEST(Now, ABlockMadeElsewhereIsPrintedOnlyIfItBreaks) {
  Diary d;
  d.plan.blocks[0].made = "elsewhere";
  const auto ready_s = [&] { return what_now(d.plan, d.events, {d.clock, 0}).missing->ready_s; };
  EXPECT_DOUBLE_EQ(ready_s(), sample::kDay);
  EXPECT_EQ(d.say("a1", H::kReceived), "");
  EXPECT_EQ(d.say("a1", H::kBroken), "");
  EXPECT_DOUBLE_EQ(ready_s(), 8.25 * sample::kDay);
}

TEST(Now, ASpareStepsIn) {
  Diary d;
  d.make_twice("a1");
  EXPECT_EQ(d.say("a1", H::kBroken), "");
  EXPECT_THAT(what_now(d.plan, d.events, {d.clock, 0}).can_be_placed, testing::ElementsAre("a1/2"));
}

}  // namespace
}  // namespace skewback
