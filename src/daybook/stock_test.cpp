#include "daybook/stock.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "daybook/sample_diary.hpp"

namespace skewback {
namespace {

using H = Happened;
using sample::Diary;
using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

Stock stock(const Diary& d) { return stock_of(d.plan, d.events); }

/// Built, struck, the centring back, all down but the legs' first blocks.
struct Down : sample::Founded {
  Down() {
    for (const char* block : {"a1", "b1", "a2", "b2", "key"}) {
      make(block);
      EXPECT_EQ(say(block, H::kPlaced), "");
    }
    EXPECT_EQ(say("striking", H::kDone), "");
    EXPECT_EQ(say(kCentringBack, H::kDone), "");
    for (const char* block : {"key", "b2", "a2"}) EXPECT_EQ(say(block, H::kTakenDown), "");
  }
};

TEST(Stock, NothingMadeIsAllMissing) {
  const Stock s = stock(Diary());
  EXPECT_EQ(s.bridge, "little-arch");
  EXPECT_EQ(s.missing().size(), 5u);
  EXPECT_THAT(s.unchecked(), IsEmpty());
  EXPECT_THAT(in_words(s), HasSubstr("2 cannot be placed before a1"));  // a2, key
}

TEST(Stock, WhatBrokeWhatIsDownAndWhatStillStands) {
  Down d;
  EXPECT_EQ(d.say("a2", H::kBroken), "");
  EXPECT_EQ(d.say("key", H::kChecked), "");
  const Stock s = stock(d);
  EXPECT_THAT(s.missing(), ElementsAre("a2"));
  EXPECT_THAT(s.unchecked(), ElementsAre("b2"));
  EXPECT_THAT(s.in_place(), ElementsAre("a1", "b1"));
  ASSERT_EQ(s.blocks[2].block, "a2");
  EXPECT_EQ(s.blocks[2].standing, Standing::kBroken);
  EXPECT_EQ(s.blocks[2].broken, 1);
  EXPECT_EQ(s.blocks[2].held_back, 1);  // the key
  EXPECT_EQ(s.blocks[2].copy, 0);
  EXPECT_TRUE(s.blocks[4].checked);
  EXPECT_THAT(in_words(s), AllOf(HasSubstr("made anew: a2; 1 cannot be placed before a2"),
                                 HasSubstr("before they are used: b2"),
                                 HasSubstr("still in place in little-arch: a1, b1")));
}

TEST(Stock, AnotherCopyThatIsGoodCounts) {
  Down d;
  EXPECT_EQ(d.say("a2", H::kBroken), "");
  EXPECT_EQ(d.say("a2", H::kReprinted, 2), "");
  const Stock s = stock(d);
  EXPECT_THAT(s.missing(), IsEmpty());
  EXPECT_EQ(s.blocks[2].copy, 2);
  EXPECT_EQ(s.blocks[2].broken, 1);
  EXPECT_EQ(s.blocks[2].standing, Standing::kPrinted);
}

TEST(Stock, AJourneyAsksForANewLook) {
  Down d;
  EXPECT_EQ(d.say("key", H::kChecked), "");
  EXPECT_EQ(d.say("key", H::kShipped), "");
  EXPECT_EQ(d.say("key", H::kReceived), "");
  EXPECT_THAT(stock(d).unchecked(), ElementsAre("a2", "b2", "key"));
}

// A block made elsewhere is first heard of when it comes; a printed one is not.
TEST(MadeElsewhere, BeginsWithItsJourney) {
  Diary d;
  d.plan.blocks[0].made = "elsewhere";
  EXPECT_THAT(d.say("b1", H::kReceived), HasSubstr("not made"));
  EXPECT_EQ(d.say("a1", H::kReceived), "");
  EXPECT_THAT(d.say("a1", H::kShipped), HasSubstr("on site"));
  EXPECT_EQ(d.say("a1", H::kPlaced, 1, true), "");
}

}  // namespace
}  // namespace skewback
