#include "deliver/vary_plots.hpp"

#include <gmock/gmock.h>

#include <algorithm>

#include "deliver/plot_frame.hpp"

namespace skewback::deliver {
namespace {

// Width by the rule: 1, 2, ..., 64 has quartiles 16.75 and 48.25, so 2 * 31.5 / 4 = 15.75; the
// round number over it is 20.
TEST(VaryPlots, BinsFollowTheRule) {
  std::vector<double> values;
  for (int i = 1; i <= 64; ++i) values.push_back(i);
  EXPECT_EQ(histogram_edges(values), (std::vector<double>{0, 20, 40, 60, 80}));
}

TEST(VaryPlots, BinsHoldEverythingAndAreFew) {
  const std::vector<std::vector<double>> samples{
      {5}, {0, 0}, {-3, -3}, {1, 1 + 1e-9}, {1e-6, 1e6}, {-1e5, 2, 3}, {1, 1, 1, 1, 1, 100}};
  for (const auto& values : samples) {
    const auto edges = histogram_edges(values);
    ASSERT_GE(edges.size(), 2U);
    EXPECT_LE(edges.size(), 42U);
    for (const double v : values) {
      EXPECT_GE(v, edges.front() - 1e-12);
      EXPECT_LE(v, edges.back());
    }
  }
}

TEST(VaryPlots, AxesAreRoundAndCoverTheRange) {
  const Axis axis = axis_over(1.23, 1.61, 4);
  EXPECT_DOUBLE_EQ(axis.step, 0.1);
  EXPECT_NEAR(axis.low, 1.2, 1e-12);
  EXPECT_NEAR(axis.high, 1.7, 1e-12);
  EXPECT_EQ(axis.number(1.3), "1.3");
  const Axis large = axis_over(0, 115000, 4);
  EXPECT_EQ(large.named("thrust", "N"), "thrust, thousand N");
  EXPECT_EQ(large.number(50000), "50");
}

VaryFront sample(const std::vector<Vec2>& points) {
  VaryFront front;
  front.x.name = "mass";
  front.y.name = "factor";
  for (const Vec2& p : points) {
    front.x.values.emplace_back(p.x());
    front.y.values.emplace_back(p.y());
    front.fails.push_back(false);
    front.numbers.push_back(front.numbers.size());
  }
  return front;
}

// Light and strong is good: (1, 1), (2, 3), (4, 5) are; (3, 3) is bettered by (2, 3), (5, 5) by
// (4, 5), (2, 2) by (2, 3).
TEST(VaryPlots, TheFrontHoldsWhatNothingBetters) {
  const std::vector<Vec2> points{{5, 5}, {2, 3}, {3, 3}, {1, 1}, {4, 5}, {2, 2}};
  EXPECT_EQ(on_front(sample(points)), (std::vector<std::size_t>{3, 1, 4}));
  VaryFront other = sample(points);
  other.x_more_is_better = true;
  EXPECT_EQ(on_front(other), std::vector<std::size_t>{0});
  other.y_more_is_better = false;  // heavy and weak
  EXPECT_EQ(on_front(other), (std::vector<std::size_t>{3, 5, 2, 0}));
}

TEST(VaryPlots, WhatFailsIsOnTheFrontOnlyWhereAllFail) {
  VaryFront front = sample({{1, 9}, {2, 3}});
  front.fails[0] = true;
  EXPECT_EQ(on_front(front), std::vector<std::size_t>{1});
  front.fails[1] = true;
  EXPECT_EQ(on_front(front), std::vector<std::size_t>{0});
}

TEST(VaryPlots, WhatIsTheSameInAllRunsIsSaid) {
  VaryTable table;
  table.title = "A bridge";
  table.what = "runs";
  table.figures = {{"mass", "kg", {3.25, 3.25, 3.25}, {}}};
  table.fails = {false, false, false};
  const std::string text = svg(histogram_sheet(table));
  EXPECT_THAT(text, testing::AllOf(testing::HasSubstr("3.25"),
                                   testing::HasSubstr("the same in all 3 runs")));
  EXPECT_THAT(text, testing::Not(testing::HasSubstr("median")));
}

TEST(VaryPlots, SheetsCountEveryRun) {
  VaryTable table;
  table.title = "A bridge";
  table.figures = {{"mass", "kg", {1.0, 2.0, std::nullopt}, {}},
                   {"verdict", "", {0, 1, 1}, {"falls", "stands"}}};
  table.varied = {{"form.rise", "m", {1.0, 1.5, 2.0}, {}},
                  {"plan.free_edges", "", {0, 0, 1}, {"smooth", "straight"}}};
  table.main = 0;
  table.fails = {false, true, false};
  EXPECT_THAT(svg(histogram_sheet(table)),
              testing::AllOf(testing::HasSubstr("3 runs"), testing::HasSubstr("stands"),
                             testing::HasSubstr("fails (1)")));
  const Sheet scatter = scatter_sheet(table);
  // dots have 16 corners: two runs with a mass, on two panels
  const auto dots = std::count_if(scatter.items.begin(), scatter.items.end(), [](const auto& item) {
    const Shape* shape = std::get_if<Shape>(&item);
    return shape != nullptr && shape->is_closed && shape->rings[0].size() == 16;
  });
  EXPECT_EQ(dots, 4);
}

}  // namespace
}  // namespace skewback::deliver
