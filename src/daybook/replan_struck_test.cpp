#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "daybook/replan.hpp"
#include "daybook/sample_diary.hpp"
#include "daybook/work_order.hpp"

namespace skewback {
namespace {

using H = Happened;
using sample::kDay;

/// The sample's programme, with a centring of three days before the first block.
DayPlan plan_with_centring() {
  DayPlan plan = sample::plan_with_network();
  std::vector<Activity>& all = plan.network->activities;
  const auto place = std::ranges::find(all, "place a1", &Activity::id) - all.begin();
  Activity centring = all.front();
  centring.id = "centring put up";
  centring.kind = "centring";
  centring.least_s = centring.likely_s = centring.most_s = 3 * kDay;
  centring.after = {0};
  for (Activity& a : all)
    for (int& before : a.after)
      if (before >= place) ++before;
  all[static_cast<std::size_t>(place)].after.push_back(static_cast<int>(place));
  std::erase(all[static_cast<std::size_t>(place)].after, 0);
  all.insert(all.begin() + place, centring);
  return plan;
}

/// All placed and struck.
struct StruckDiary : sample::Diary {
  explicit StruckDiary(const DayPlan& with, const std::string& start = "2027-03-01") {
    plan = with;
    plan.network->start = start;
    EXPECT_EQ(say("footings", H::kDone), "");
    if (const std::string centring = work_of_kind(plan, "centring"); !centring.empty()) {
      EXPECT_EQ(say(centring, H::kDone), "");
    }
    for (const char* block : {"a1", "b1", "a2", "b2", "key"}) {
      make(block);
      EXPECT_EQ(say(block, H::kPlaced), "");
    }
    EXPECT_EQ(say("striking", H::kDone), "");
  }
  Replan rest() const { return *replanned(plan, events, {clock, 0}); }
  /// Days from now to the end, and to the end of one.
  double left(const std::string& id = "striking") const {
    const Replan r = rest();
    std::vector<double> likely;
    for (const Activity& a : r.network.activities) likely.push_back(a.likely_s);
    const std::vector<double> ends = finishes(r.network, likely);
    const auto it = std::ranges::find(r.network.activities, id, &Activity::id);
    return (ends[static_cast<std::size_t>(it - r.network.activities.begin())] - r.now_s) / kDay;
  }
};

TEST(ReplanStruck, PutsTheCentringUpAgainBeforeWhatIsPlacedAgain) {
  StruckDiary d(plan_with_centring());
  EXPECT_TRUE(d.rest().once_more.empty());
  EXPECT_EQ(d.say("b2", H::kTakenDown, 1, true), "");
  EXPECT_THAT(d.rest().once_more, testing::ElementsAre("centring put up", "striking"));
  EXPECT_TRUE(d.rest().without_times.empty());
  EXPECT_DOUBLE_EQ(d.left("place b2"), 3 + 0.5);
  EXPECT_DOUBLE_EQ(d.left(), 3 + 0.5 + 1);
  EXPECT_EQ(d.say(kCentringBack, H::kDone), "");
  EXPECT_THAT(d.rest().once_more, testing::ElementsAre("striking"));
  EXPECT_DOUBLE_EQ(d.left(), 0.5 + 1);
  EXPECT_EQ(d.say("b2", H::kPlaced, 1, true), "") << "the key was never taken down";
  EXPECT_DOUBLE_EQ(d.left(), 1);
  EXPECT_FALSE(d.rest().ended);
  EXPECT_EQ(d.say("striking", H::kDone), "");
  EXPECT_TRUE(d.rest().ended);
}

TEST(ReplanStruck, SaysWhatThePlanHasNoTimesFor) {
  StruckDiary d(sample::plan_with_network());
  EXPECT_EQ(d.say("key", H::kTakenDown, 1, true), "");
  EXPECT_THAT(d.rest().without_times, testing::ElementsAre(kCentringBack));
  EXPECT_THAT(d.rest().once_more, testing::ElementsAre("striking"));
  EXPECT_DOUBLE_EQ(d.left(), 0.5 + 1);
}

// The diary is of March 2027: the programme was to begin months later.
TEST(ReplanEarly, WhatIsDoneBeforeTheStartStaysAtItsDate) {
  const StruckDiary d(sample::plan_with_network(), "2027-09-01");
  const Replan r = d.rest();
  ASSERT_TRUE(r.ended);
  EXPECT_EQ(r.ended->id, "striking");
  EXPECT_DOUBLE_EQ(r.ended->finish_s, *seconds_since("2027-09-01", d.events.back().at));
  EXPECT_LT(r.ended->finish_s, -100 * kDay);
}

TEST(ReplanEarly, WhatHasBegunGoesOnFromNowAndWhatHasNotWaitsForTheStart) {
  sample::Diary d;
  d.plan.network->start = "2027-09-01";
  const auto end = [&] {
    const Replan r = *replanned(d.plan, d.events, {d.clock, 0});
    EXPECT_FALSE(r.ended);
    std::vector<double> likely;
    for (const Activity& a : r.network.activities) likely.push_back(a.likely_s);
    return std::ranges::max(finishes(r.network, likely)) / kDay;
  };
  EXPECT_DOUBLE_EQ(end(), 14 + 5 * 0.5 + 1);  // from the start
  EXPECT_EQ(d.say("footings", H::kDone), "");
  const double now = *seconds_since("2027-09-01", {d.clock, 0}) / kDay;
  EXPECT_NEAR(end(), now + 3 * 0.25 + 7 + 1 + 5 * 0.5 + 1, 1e-9);
}

}  // namespace
}  // namespace skewback
