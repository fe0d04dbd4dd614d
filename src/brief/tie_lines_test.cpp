#include "brief/tie_lines.hpp"

#include "brief/sample_text.hpp"

namespace skewback {
namespace {

/// Three springing lines on the x axis at 0, 5 and 10, each 2 m long across it; the middle one
/// faces east, so that its footing lies from x = 5 to 5.4.
std::vector<Support> row(double middle_y) {
  const auto at = [](const char* id, double x, double y, double way) {
    Support s;
    s.id = id;
    s.a = {x, y - way};
    s.b = {x, y + way};
    return s;
  };
  return {at("west", 0, 0, -1), at("middle", 5, middle_y, 1), at("east", 10, 0, 1)};
}

GroundRequest reaching(double length_m, double width_m) {
  GroundRequest ground;
  ground.footing_length_m = length_m;
  ground.footing_width_m = width_m;
  return ground;
}

TEST(TieLines, RunsThroughTheFootingBetween) {
  const GroundRequest ground = reaching(0.6, 0.4);
  const Tie tie{"west-east", 0, 2, 2, 1.0, -0.3};
  EXPECT_EQ(crossed_footings(row(0), ground, tie), std::vector<std::string>{"middle"});
  // the footing reaches 1.6 m either side of its middle, the outer rod 0.5 m off the line
  EXPECT_FALSE(crossed_footings(row(2.0), ground, tie).empty());
  EXPECT_TRUE(crossed_footings(row(2.1), ground, tie).empty());  // touches
  EXPECT_TRUE(crossed_footings(row(2.2), ground, tie).empty());
  EXPECT_TRUE(crossed_footings(row(0), ground, {"a", 0, 1, 2, 1.0, 0}).empty());
}

TEST(TieLines, FootingLiesOutsideItsSpringing) {
  const Polygon plan = footing_plan(row(0)[2], reaching(0.6, 0.4));
  EXPECT_NEAR(area(plan), 3.2 * 0.4, 1e-12);  // counter-clockwise
  for (const Vec2& p : plan) EXPECT_GE(p.x(), 10 - 1e-12);
}

// A side foot close to the line of a tie whose rods are 3 m apart: the outer rod runs into it.
TEST(TieLines, ReaderRefusesATieThroughAFooting) {
  const std::string& whole = sample::drovers_hop();
  const auto plan = whole.find("[plan]"), form = whole.find("[form]"),
             ground = whole.find("[ground]"), print = whole.size();
  const std::string text = whole.substr(0, plan) + R"(
[plan]
outline = [["0 m", "-1 m"], ["12 m", "-1 m"], ["12 m", "1 m"], ["7 m", "1.2 m"],
           ["5 m", "1.2 m"], ["0 m", "1 m"]]
free_edges = "straight"
meeting = ["6 m", "0 m"]
[[plan.support]]
id = "left"
ends = [["0 m", "1 m"], ["0 m", "-1 m"]]
level = "0 m"
[[plan.support]]
id = "right"
ends = [["12 m", "-1 m"], ["12 m", "1 m"]]
level = "0 m"
[[plan.support]]
id = "side"
ends = [["7 m", "1.2 m"], ["5 m", "1.2 m"]]
level = "0 m"
)" + whole.substr(form, ground - form) +
                           R"([ground]
[[ground.tie]]
id = "across"
from = "left"
to = "right"
rods = 2
spacing = "3 m"
)" + whole.substr(print);
  const Result<Brief> brief = read_brief_text(text, "some.toml");
  ASSERT_FALSE(brief.ok());
  EXPECT_NE(sample::all_of(brief.faults()).find("runs through the footing of \"side\""),
            std::string::npos)
      << sample::all_of(brief.faults());
}

}  // namespace
}  // namespace skewback
