#include <gmock/gmock.h>
#include <gtest/gtest.h>

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
struct Built : Diary {
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
  Diary d;
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
  EXPECT_EQ(d.say("a1", H::kPlaced, 2), "");
  EXPECT_THAT(d.say("a1", H::kTakenDown, 2), HasSubstr("still in place: key"));
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
