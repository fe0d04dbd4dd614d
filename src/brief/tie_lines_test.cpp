#include "brief/tie_lines.hpp"

#include <gtest/gtest.h>

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

TEST(TieLines, RunsThroughTheFootingBetween) {
  const GroundRequest ground{.footing_length_m = 0.6, .footing_width_m = 0.4};
  const Tie tie{"west-east", 0, 2, 2, 1.0, -0.3};
  EXPECT_EQ(crossed_footings(row(0), ground, tie), std::vector<std::string>{"middle"});
  // the footing reaches 1.6 m either side of its middle, the outer rod 0.5 m off the line
  EXPECT_FALSE(crossed_footings(row(2.0), ground, tie).empty());
  EXPECT_TRUE(crossed_footings(row(2.1), ground, tie).empty());  // touches
  EXPECT_TRUE(crossed_footings(row(2.2), ground, tie).empty());
  EXPECT_TRUE(crossed_footings(row(0), ground, {"a", 0, 1, 2, 1.0, 0}).empty());
}

TEST(TieLines, FootingLiesOutsideItsSpringing) {
  const Polygon plan = footing_plan(row(0)[2], {.footing_length_m = 0.6, .footing_width_m = 0.4});
  EXPECT_NEAR(area(plan), 3.2 * 0.4, 1e-12);  // counter-clockwise
  for (const Vec2& p : plan) EXPECT_GE(p.x(), 10 - 1e-12);
}

}  // namespace
}  // namespace skewback
