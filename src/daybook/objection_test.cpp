#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "daybook/sample_diary.hpp"
#include "daybook/work_order.hpp"

namespace skewback {
namespace {

using H = Happened;
using sample::Diary;
using testing::AllOf;
using testing::HasSubstr;

constexpr const char* kAll[] = {"a1", "b1", "a2", "b2", "key"};

/// The sample's bridge with a walkway after striking; every block in its place.
struct Built : sample::Founded {
  Built() {
    Network& network = *plan.network;
    Activity walkway;
    walkway.id = walkway.kind = "walkway";
    walkway.after = {static_cast<int>(network.activities.size()) - 1};
    network.activities.push_back(walkway);
    for (const char* block : kAll) {
      make(block);
      EXPECT_EQ(say(block, H::kPlaced), "");
    }
  }
  std::int64_t last() const { return events.back().number; }
  NowReport now() const { return what_now(plan, events, {clock, 0}); }
};

// The way of the report: walkway and parapets off, the centring back, blocks out; and in again.
TEST(Struck, NothingIsMovedBeforeTheCentringStandsAgain) {
  Built d;
  EXPECT_EQ(d.say("striking", H::kDone), "");
  EXPECT_EQ(d.say("walkway", H::kDone), "");
  EXPECT_THAT(d.say("key", H::kTakenDown),
              AllOf(HasSubstr("walkway and parapets laid"), HasSubstr(kWalkwayUp)));
  EXPECT_THAT(d.say(kCentringBack, H::kDone), HasSubstr("walkway and parapets laid"));
  EXPECT_EQ(d.say(kWalkwayUp, H::kDone), "");
  EXPECT_THAT(d.say("key", H::kTakenDown),
              AllOf(HasSubstr("the centring struck"), HasSubstr(kCentringBack)));
  EXPECT_EQ(d.say(kCentringBack, H::kDone), "");
  EXPECT_THAT(d.say(kCentringBack, H::kDone), HasSubstr("done already"));
  EXPECT_EQ(d.say("key", H::kTakenDown), "");
  EXPECT_THAT(d.say("striking", H::kDone), HasSubstr("key is not in place"));
  EXPECT_EQ(d.say("key", H::kPlaced), "");
  EXPECT_THAT(d.say("walkway", H::kDone), HasSubstr("striking is not recorded as done"));
  EXPECT_EQ(d.say("striking", H::kDone), "");  // a second time
  EXPECT_THAT(d.say("key", H::kTakenDown), HasSubstr("the centring struck"));
  EXPECT_EQ(d.say("walkway", H::kDone), "");
  EXPECT_THAT(d.say("walkway", H::kDone), HasSubstr("done already"));
}

TEST(Struck, EvenSoItCanBeWritten) {
  Built d;
  EXPECT_EQ(d.say("striking", H::kDone), "");
  EXPECT_EQ(d.say("key", H::kTakenDown, 1, true), "");
  EXPECT_THAT(d.say("key", H::kPlaced), HasSubstr("the centring struck"));
  EXPECT_EQ(d.say("key", H::kPlaced, 1, true), "");
  EXPECT_EQ(d.say("key", H::kBroken), "");  // a fact, whatever holds it
}

TEST(Struck, NowSaysWhatHasToComeFirst) {
  Built d;
  EXPECT_EQ(centring_words(d.now()), "");
  EXPECT_EQ(d.say("striking", H::kDone), "");
  EXPECT_EQ(d.say("key", H::kTakenDown, 1, true), "");
  EXPECT_THAT(centring_words(d.now()),
              AllOf(HasSubstr("nothing is to be taken down or placed before it stands again"),
                    testing::Not(HasSubstr("arapets"))));
  EXPECT_TRUE(d.now().can_be_placed.empty());
  EXPECT_THAT(d.now().for_centring, testing::ElementsAre("key"));
  EXPECT_EQ(d.say(kCentringBack, H::kDone), "");
  EXPECT_EQ(centring_words(d.now()), "");
  EXPECT_THAT(d.now().can_be_placed, testing::ElementsAre("key"));
  EXPECT_EQ(d.say("walkway", H::kDone, 1, true), "");
  EXPECT_THAT(centring_words(d.now()), HasSubstr("parapets are taken up first"));
}

TEST(Struck, OnlyWhatIsDoneIsUndone) {
  Built d;
  EXPECT_THAT(d.say(kCentringBack, H::kDone), HasSubstr("striking is not recorded as done"));
  EXPECT_THAT(d.say(kWalkwayUp, H::kDone), HasSubstr("walkway is not recorded as done"));
  EXPECT_EQ(works_of(sample::small_plan()).size(), 0U);  // no striking: nothing to put back
  EXPECT_THAT(works_of(d.plan),
              testing::IsSupersetOf({std::string(kCentringBack), std::string(kWalkwayUp)}));
  EXPECT_EQ(d.say("striking", H::kDone), "");
  d.clock -= 2 * 3600;
  EXPECT_THAT(d.say(kCentringBack, H::kDone), HasSubstr("before striking was done"));
}

TEST(Struck, AWorkIsNotTakenBackFromUnderWhatFollowsIt) {
  Built d;
  EXPECT_EQ(d.say("striking", H::kDone), "");
  const std::int64_t striking = d.last();
  EXPECT_THAT(d.cancel(striking - 1), HasSubstr("the centring struck"));  // the key placed
  EXPECT_EQ(d.say("walkway", H::kDone), "");
  EXPECT_THAT(d.cancel(striking), AllOf(HasSubstr("walkway done after it"),
                                        HasSubstr("cancel " + std::to_string(striking + 1))));
  EXPECT_EQ(d.cancel(striking + 1), "");
  EXPECT_EQ(d.say(kCentringBack, H::kDone), "");
  const std::int64_t back = d.last();
  EXPECT_THAT(d.cancel(striking), HasSubstr("is followed by event " + std::to_string(back)));
  EXPECT_EQ(d.say("key", H::kTakenDown), "");
  EXPECT_THAT(d.cancel(back), HasSubstr("key taken-down after it"));
  EXPECT_EQ(d.cancel(back, true), "");
  EXPECT_TRUE(d.now().struck);
}

// The key needs a2 and b2, a2 needs a1.
TEST(Gap, WhatIsNeededIndirectlyCountsToo) {
  sample::Founded d;
  for (const char* block : kAll) d.make(block);
  for (const char* block : {"a1", "b1", "a2", "b2"}) EXPECT_EQ(d.say(block, H::kPlaced), "");
  EXPECT_EQ(d.say("a1", H::kBroken), "");
  EXPECT_THAT(d.say("key", H::kPlaced), HasSubstr("not in place yet: a1"));
  const NowReport r = what_now(d.plan, d.events, {d.clock, 0});
  EXPECT_TRUE(r.can_be_placed.empty());
  EXPECT_THAT(r.not_yet, testing::ElementsAre("key"));
  EXPECT_EQ(r.missing->block, "a1");
  EXPECT_EQ(r.missing->held_back, 1);
  EXPECT_EQ(d.say("key", H::kPlaced, 1, true), "");
  EXPECT_EQ(d.say("a2", H::kBroken), "");
  EXPECT_EQ(d.say("a1", H::kReprinted, 2), "");
  d.to_site("a1", 2);
  EXPECT_THAT(d.say("a1", H::kPlaced, 2), HasSubstr("still in place: key"));
  EXPECT_EQ(d.say("a1", H::kPlaced, 2, true), "");
  EXPECT_THAT(d.say("a1", H::kTakenDown, 2), HasSubstr("still in place: key"));
}

// What was placed on it comes off first, the last placed first: it is not got in under them.
TEST(Gap, NothingIsPlacedUnderWhatStands) {
  Built d;
  EXPECT_EQ(d.say("a1", H::kBroken), "");
  EXPECT_EQ(d.say("a1", H::kReprinted, 2), "");
  d.to_site("a1", 2);
  EXPECT_THAT(d.say("a1", H::kPlaced, 2), HasSubstr("still in place: a2, key"));
  NowReport r = d.now();
  EXPECT_TRUE(r.can_be_placed.empty());
  EXPECT_TRUE(r.not_yet.empty());
  ASSERT_EQ(r.under_placed.size(), 1U);
  EXPECT_EQ(under_words(r.under_placed[0]),
            "a1/2 is on site but does not go in under what is in place: take down first key, then "
            "a2.");
  for (const char* block : {"key", "a2"}) EXPECT_EQ(d.say(block, H::kTakenDown), "");
  r = d.now();
  EXPECT_THAT(r.can_be_placed, testing::ElementsAre("a1/2"));
  EXPECT_TRUE(r.under_placed.empty());
  EXPECT_EQ(d.say("a1", H::kPlaced, 2), "");
  // that it broke may be a mistake: it has been there all along
  EXPECT_EQ(d.say("a2", H::kPlaced), "");
  EXPECT_EQ(d.say("a1", H::kBroken, 2), "");
  EXPECT_EQ(d.cancel(d.last()), "");
}

// A block that breaks in a struck arch: what is left may fall. Over its centring it does not.
TEST(Struck, AnArchThatIsNotWholeIsAnAlarm) {
  Built d;
  EXPECT_EQ(d.say("key", H::kBroken), "");
  EXPECT_EQ(alarm_words(d.now()), "");
  EXPECT_EQ(d.cancel(d.last()), "");
  EXPECT_EQ(d.say("striking", H::kDone), "");
  EXPECT_EQ(alarm_words(d.now()), "");
  EXPECT_EQ(d.say("key", H::kBroken), "");
  EXPECT_THAT(alarm_words(d.now()),
              AllOf(testing::StartsWith("WARNING: the centring is struck"),
                    HasSubstr("Not in place: key (broken)."), HasSubstr("keep everybody off")));
  EXPECT_EQ(d.say(kCentringBack, H::kDone), "");
  EXPECT_EQ(alarm_words(d.now()), "");
}

TEST(Doubts, CuringTakesAsLongAsThePlanHasIt) {
  Diary d;
  const auto cured = [&](double after_days, bool even_so) {
    BlockEvent e;
    e.number = static_cast<std::int64_t>(d.events.size()) + 1;
    e.block = "a1";
    e.what = H::kCured;
    e.at = e.written = {d.clock + std::llround(after_days * sample::kDay), 0};
    return d.keep(e, even_so);
  };
  EXPECT_EQ(d.say("a1", H::kPrinted), "");  // at 9 on 2 March 2027
  EXPECT_THAT(cured(1.0 / 1440, false),
              AllOf(HasSubstr("1 minute after it was made"), HasSubstr("7 days of curing"),
                    HasSubstr("2027-03-09T09:00:00"), HasSubstr("--even-so")));
  EXPECT_THAT(cured(6.5, false), HasSubstr("6.5 days after"));
  EXPECT_EQ(cured(7, false), "");
  EXPECT_EQ(d.cancel(d.events.back().number), "");
  EXPECT_EQ(cured(0.5, true), "");
}

// Footings, then centring: what is done proves what comes before it.
TEST(Doubts, NothingIsPlacedBeforeFootingsAndCentring) {
  Diary d;
  Network& network = *d.plan.network;
  const auto place = std::ranges::find(network.activities, "place a1", &Activity::id);
  place->after.push_back(1);
  for (Activity& a : network.activities)
    for (int& i : a.after) i += i > 0 ? 1 : 0;
  Activity centring = network.activities.front();
  centring.id = centring.kind = "centring put up";
  centring.after = {0};
  for (int& i : place->after) i = i == 2 ? 1 : i;
  network.activities.insert(network.activities.begin() + 1, centring);
  d.make("a1");
  EXPECT_THAT(
      d.say("a1", H::kPlaced),
      AllOf(HasSubstr("not recorded as done: footings, centring put up"), HasSubstr("--even-so")));
  EXPECT_THAT(what_now(d.plan, d.events, {d.clock, 0}).works_before,
              testing::ElementsAre("footings", "centring put up"));
  EXPECT_EQ(d.say("a1", H::kPlaced, 1, true), "");
  EXPECT_EQ(d.cancel(d.events.back().number), "");
  EXPECT_EQ(d.say("footings", H::kDone), "");
  EXPECT_THAT(d.say("a1", H::kPlaced), HasSubstr("done: centring put up"));
  EXPECT_EQ(d.cancel(d.events.back().number), "");
  EXPECT_EQ(d.say("centring put up", H::kDone), "");
  EXPECT_EQ(d.say("a1", H::kPlaced), "");
  EXPECT_TRUE(what_now(d.plan, d.events, {d.clock, 0}).works_before.empty());
}

// Of b1 the plan makes a spare: which of the two is first is all one.
TEST(Doubts, CopiesComeInTurn) {
  Diary d;
  d.plan = sample::plan_with_network({"b1"});
  for (const bool even_so : {false, true})
    EXPECT_THAT(d.say("a1", H::kPrinted, 77, even_so),
                AllOf(HasSubstr("no a1/76 before it"), HasSubstr("the next one, a1")));
  EXPECT_THAT(d.say("a1", H::kPrinted, 2), HasSubstr("the next one, a1"));
  EXPECT_EQ(d.say("a1", H::kPrinted), "");
  EXPECT_EQ(d.say("a1", H::kPrinted, 2), "");
  EXPECT_THAT(d.say("a1", H::kNote, 4), HasSubstr("the next one, a1/3"));
  EXPECT_EQ(d.say("b1", H::kPrinted, 2), "");
  EXPECT_THAT(d.say("b1", H::kPrinted, 4), HasSubstr("the next one, b1/3"));
  EXPECT_EQ(d.say("b1", H::kPrinted), "");
  d.plan.blocks.back().made = "elsewhere";  // it brings its number with it
  EXPECT_EQ(d.say("key", H::kReceived, 3), "");
  EXPECT_THAT(d.say("key", H::kReceived, 5), HasSubstr("the next one, key/4"));
}

TEST(Moments, BeforeTheYear2000AreMistakes) {
  Diary d;
  d.clock = parse_moment("1999-12-31T22:00:00Z")->utc_s;
  for (const bool even_so : {false, true})
    for (const H what : {H::kPrinted, H::kNote}) {
      EXPECT_THAT(d.say("a1", what, 1, even_so), HasSubstr("2000 or later"));
      d.clock -= 3600;
    }
  d.clock += 2 * 3600;
  EXPECT_EQ(d.say("a1", H::kPrinted), "");
}

}  // namespace
}  // namespace skewback
