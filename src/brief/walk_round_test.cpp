// Walking lines that the brief leaves out, where there is an opening in a leg.

#include "brief/sample_text.hpp"

namespace skewback {
namespace {

using namespace sample;

// The stair well's plan, its walkway without lines.
std::string left_out(const std::string& opening) {
  std::string text = file_text(source("tests/whole/plans/stair-well.toml"));
  text = text.substr(0, text.find("lines = ["));
  const std::size_t from = text.find("openings = ["), to = text.find("\n]\n", from);
  return text.substr(0, from) + opening + text.substr(to + 3);
}

TEST(WalkRound, ALineLeftOutIsLedRoundOnTheWiderSide) {
  const Result<Brief> brief = read_brief_text(
      left_out("openings = [[[\"0.2 m\", \"4 m\"], [\"0.4 m\", \"4.5 m\"], [\"0.2 m\", \"5 m\"], "
               "[\"-0.1 m\", \"4.5 m\"]]]\n"),
      "some.toml");
  ASSERT_TRUE(brief.ok()) << all_of(brief.faults());
  ASSERT_EQ(brief->walkway.lines.size(), 3u);
  EXPECT_EQ(brief->walkway.lines[1].size(), 2u);
  const std::vector<Vec2>& line = brief->walkway.lines[0];
  ASSERT_EQ(line.size(), 4u);
  // the leg's side at y = 4.5 is at x = -1.030; half way from there to the opening's corner
  EXPECT_NEAR(line[1].x(), (-1.030 - 0.1) / 2, 1e-3);
  EXPECT_NEAR(line[1].y(), 5, 1e-9);
  EXPECT_NEAR(line[2].x(), line[1].x(), 1e-9);
  EXPECT_NEAR(line[2].y(), 4, 1e-9);
  EXPECT_EQ(line[3], Vec2(0, 0));
}

TEST(WalkRound, ALineOverAnEyeIsRefusedStill) {
  const Result<Brief> brief = read_brief_text(
      left_out("openings = [[[\"0.4 m\", \"0.4 m\"], [\"0.4 m\", \"-0.4 m\"], [\"-0.4 m\", \"-0.4 "
               "m\"], [\"-0.4 m\", \"0.4 m\"]]]\n"),
      "some.toml");
  ASSERT_FALSE(brief.ok());
  ASSERT_EQ(brief.faults().size(), 1u) << all_of(brief.faults());  // for three lines
  EXPECT_NE(brief.faults().front().found.find("over an opening"), std::string::npos);
  EXPECT_NE(brief.faults().front().change.find("walkway.lines"), std::string::npos);
}

}  // namespace
}  // namespace skewback
