#include "brief/fill.hpp"

#include <gtest/gtest.h>

#include "brief/by_key.hpp"
#include "brief/sample_text.hpp"

namespace skewback {
namespace {

using namespace sample;

Brief wren_leat(const std::string& fill) {
  const std::string text = with("free_edges = \"smooth\"", "free_edges = \"smooth\"\n" + fill,
                                file_text(source("examples/wren-leat/brief.toml")));
  const Result<Brief> brief = read_brief_text(text, "some.toml");
  EXPECT_TRUE(brief.ok()) << all_of(brief.faults());
  return *brief;
}

// By hand: a corner 2 m inside the line from (4, 0) to (0, 0); a quarter of the way is 0.5 m.
TEST(Fill, PointsGoTheirShareOfTheWayToTheLineBetweenTheEnds) {
  Plan plan;
  plan.supports = {{"a", {0, 0}, {0, 1}, 0}, {"b", {4, 1}, {4, 0}, 0}};
  plan.free_edges = {{0, 1, {{0, 1}, {4, 1}}}, {1, 0, {{4, 0}, {3, 1}, {1, 2}, {0, 0}}}};
  const DrawnOut out = draw_out(plan, 0.25);
  EXPECT_DOUBLE_EQ(out.most_m, 0.5);
  EXPECT_EQ(out.place, Vec2(1, 2));
  EXPECT_EQ(out.free_edge, 1);
  const std::vector<Vec2> line{{4, 0}, {3, 0.75}, {1, 1.5}, {0, 0}};
  EXPECT_EQ(plan.free_edges[1].line, line);
  EXPECT_EQ(plan.free_edges[0].line, (std::vector<Vec2>{{0, 1}, {4, 1}}));
  const Polygon outline{{0, 0}, {0, 1}, {4, 1}, {4, 0}, {3, 0.75}, {1, 1.5}};
  EXPECT_EQ(plan.outline, outline);
}

TEST(Fill, TheKeyDrawsThePlanOut) {
  Plan drawn = wren_leat("").plan;
  const Plan read = wren_leat("fill = 0.3").plan;
  EXPECT_EQ(read.fill, 0.3);
  EXPECT_GT(area(read.outline), 1.02 * area(drawn.outline));
  draw_out(drawn, 0.3);
  EXPECT_EQ(read.outline, drawn.outline);
}

// What is left to the line is 0.7 and then half of that.
TEST(Fill, SharesFollowEachOther) {
  Plan twice = wren_leat("fill = 0.3").plan;
  const Plan once = wren_leat("fill = 0.65").plan;
  draw_out(twice, 0.5);
  ASSERT_EQ(twice.outline.size(), once.outline.size());
  for (std::size_t i = 0; i < once.outline.size(); ++i)
    EXPECT_LT((twice.outline[i] - once.outline[i]).norm(), 1e-12);
}

TEST(Fill, WholeIsStraight) {
  for (const FreeEdge& edge : wren_leat("fill = 1").plan.free_edges) {
    const Vec2 along = (edge.line.back() - edge.line.front()).normalized();
    for (const Vec2& p : edge.line) {
      const Vec2 from = p - edge.line.front();
      EXPECT_NEAR(along.x() * from.y() - along.y() * from.x(), 0, 1e-12);
    }
  }
}

TEST(Fill, NoMoreThanWhole) {
  expect_fault({"fill_over", "free_edges = \"smooth\"", "free_edges = \"smooth\"\nfill = 1.0625",
                "1.0625", "plan.fill", "from 0 to 1"},
               file_text(source("examples/wren-leat/brief.toml")));
}

}  // namespace
}  // namespace skewback
