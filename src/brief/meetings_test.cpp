#include "brief/meetings.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "brief/sample_text.hpp"

namespace skewback {
namespace {

using sample::file_text;
using sample::source;
using sample::spot_in;
using testing::ElementsAre;
using testing::HasSubstr;

std::string twin_forks() { return file_text(source("tests/whole/plans/twin-forks.toml")); }

std::string swapped(const std::string& from, const std::string& to) {
  std::string text = twin_forks();
  const auto at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return text.replace(at, from.size(), to);
}

const std::string kPair = "meeting = [[\"-3.40 m\", \"0.00 m\"], [\"3.40 m\", \"0.30 m\"]]";

TEST(Meetings, TwoAreReadAndSupportsGoToTheOneTheyReach) {
  const Result<Brief> brief = read_brief_text(twin_forks(), "some.toml");
  ASSERT_TRUE(brief.ok()) << describe(brief.faults().front());
  const Plan& plan = brief->plan;
  ASSERT_TRUE(plan.meeting && plan.second_meeting);
  EXPECT_EQ(*plan.meeting, Vec2(-3.4, 0));
  EXPECT_EQ(*plan.second_meeting, Vec2(3.4, 0.3));
  const std::vector<int> of = meetings_of_supports(plan);
  for (std::size_t k = 0; k < of.size(); ++k) {
    const std::string& id = plan.supports[k].id;
    EXPECT_EQ(of[k], id == "kiln" || id == "pound" ? 0 : 1) << id;
    EXPECT_EQ(passes_spine(plan, int(k)), id == "pound" || id == "stile") << id;
  }
  EXPECT_EQ(*middle_of_meetings(plan), Vec2(0, 0.15));
  EXPECT_EQ(*nearest_meeting(plan, {1, 5}), *plan.second_meeting);
}

TEST(Meetings, WalkwayLeadsFromEachSupportToItsOwnAndAlongTheSpine) {
  const Result<Brief> brief = read_brief_text(twin_forks(), "some.toml");
  ASSERT_TRUE(brief.ok());
  const auto& lines = brief->walkway.lines;
  ASSERT_EQ(lines.size(), 5u);
  for (std::size_t k = 0; k < 4; ++k) EXPECT_EQ(lines[k].back(), *meeting_of(brief->plan, k));
  EXPECT_THAT(lines[4], ElementsAre(*brief->plan.meeting, *brief->plan.second_meeting));
}

struct BadPair {
  const char* name;
  const char* meeting;
  const char *key, *found;
};
class BadPairs : public testing::TestWithParam<BadPair> {};
TEST_P(BadPairs, AreRefusedWithTheirPlace) {
  const std::string text = swapped(kPair, std::string("meeting = ") + GetParam().meeting);
  const Result<Brief> brief = read_brief_text(text, "some.toml");
  ASSERT_FALSE(brief.ok());
  const Fault& fault = brief.faults().front();
  EXPECT_EQ(fault.key, GetParam().key) << describe(fault);
  EXPECT_THAT(fault.found, HasSubstr(GetParam().found)) << describe(fault);
  EXPECT_EQ(fault.line, spot_in(text, "meeting = ").line);
  EXPECT_FALSE(fault.expected.empty());
  EXPECT_FALSE(fault.change.empty());
}
INSTANTIATE_TEST_SUITE_P(
    All, BadPairs,
    testing::Values(
        BadPair{"three_points", R"([["-3 m", "0 m"], ["0 m", "0 m"], ["3 m", "0 m"]])",
                "plan.meeting", "a list of 3 points"},
        BadPair{"one_point_in_a_list", R"([["-3 m", "0 m"]])", "plan.meeting", "a list of 1"},
        BadPair{"no_unit", R"([["-3 m", "0 m"], ["3 m", 0]])", "plan.meeting[2]", "bare number"},
        BadPair{"outside", R"([["-3.4 m", "0 m"], ["0 m", "3 m"]])", "plan.meeting[2]",
                "outside the outline"},
        BadPair{"same", R"([["-3.4 m", "0 m"], ["-3.4 m", "0 m"]])", "plan.meeting",
                "the same point twice"},
        BadPair{"both_at_one_end", R"([["-3.4 m", "0 m"], ["-2.9 m", "0 m"]])", "plan.meeting",
                "straight ways from osier"},
        BadPair{"round_a_corner", R"([["-5.8 m", "2.4 m"], ["3.4 m", "0.3 m"]])", "plan.meeting",
                "leaves the plan"}),
    [](const auto& test) { return test.param.name; });

TEST(Meetings, AnOpeningOrAWorkingParapetBesideTwoIsRefused) {
  const std::string hole =
      swapped("[[plan.support]]",
              "[[plan.round_opening]]\ncentre = [\"-3.4 m\", \"0 m\"]\ndiameter = \"0.6 m\"\n\n"
              "[[plan.support]]");
  const Result<Brief> with_hole = read_brief_text(hole, "some.toml");
  ASSERT_FALSE(with_hole.ok());
  EXPECT_EQ(with_hole.faults().front().key, "plan.meeting");
  EXPECT_THAT(with_hole.faults().front().found, HasSubstr("opening"));
  const std::string ribs = swapped("[loads]",
                                   "[parapet]\nworking = [\"kiln\"]\nupstand_height = \"250 mm\"\n"
                                   "upstand_width = \"120 mm\"\ninset = \"0.1 m\"\n\n[loads]");
  const Result<Brief> with_ribs = read_brief_text(ribs, "some.toml");
  ASSERT_FALSE(with_ribs.ok());
  EXPECT_EQ(with_ribs.faults().front().key, "parapet.working");
}

// The second is nearer, but round a corner.
TEST(Meetings, ASupportBelongsToTheOneItReachesStraight) {
  Plan plan;
  plan.outline = {{0, 0}, {4, 0}, {4, 2}, {1.9, 2}, {2.8, 6}, {1.6, 6}, {0.4, 2}, {0, 2}};
  plan.supports = {{"up", {2.8, 6}, {1.6, 6}, 0}};
  plan.meeting = Vec2(1, 1);
  plan.second_meeting = Vec2(3, 1);
  EXPECT_THAT(meetings_of_supports(plan), ElementsAre(0));
  EXPECT_NEAR(stray(plan.outline, {2.2, 6}, {1, 1}).most_m, 0, 1e-12);
  EXPECT_GT(stray(plan.outline, {2.2, 6}, {3, 1}).most_m, 0.3);
}

TEST(Meetings, OneIsReadAsBefore) {
  Plan plan;
  plan.supports.resize(3);
  plan.meeting = Vec2(1, 2);
  EXPECT_THAT(meetings_of_supports(plan), ElementsAre(0, 0, 0));
  EXPECT_EQ(*meeting_of(plan, 2), Vec2(1, 2));
  EXPECT_EQ(*middle_of_meetings(plan), Vec2(1, 2));
  EXPECT_FALSE(spine_fault(plan).has_value());
  plan.meeting.reset();
  EXPECT_FALSE(meeting_of(plan, 0) || nearest_meeting(plan, {0, 0}) || middle_of_meetings(plan));
}

}  // namespace
}  // namespace skewback
