#include "verify/overlap.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace skewback::audit {
namespace {

Patch loops(const std::vector<std::vector<Vec2>>& all) {
  Patch patch;
  for (const auto& loop : all) {
    for (std::size_t i = 0; i < loop.size(); ++i)
      patch.push_back({loop[i], loop[(i + 1) % loop.size()]});
  }
  return patch;
}

std::vector<Vec2> square(double x, double y, double side) {
  return {{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}};
}

double hull_area(const std::vector<Vec2>& hull) {
  double sum = 0;
  for (std::size_t i = 0; i < hull.size(); ++i) {
    const Vec2 &p = hull[i], &q = hull[(i + 1) % hull.size()];
    sum += (p.x() * q.y() - p.y() * q.x()) / 2;
  }
  return sum;
}

// Expected areas are drawn and computed by hand.
TEST(Overlap, SquaresByHalves) {
  const auto hull = overlap_hull(loops({square(0, 0, 1)}), loops({square(0.5, 0, 1)}));
  EXPECT_EQ(hull.size(), 4u);
  EXPECT_NEAR(hull_area(hull), 0.5, 1e-12);
}

TEST(Overlap, SquareTurnedByAnEighth) {  // the regular octagon in two squares of side 2
  const double r = std::sqrt(2.0);
  const auto hull =
      overlap_hull(loops({square(-1, -1, 2)}), loops({{{r, 0}, {0, r}, {-r, 0}, {0, -r}}}));
  EXPECT_EQ(hull.size(), 8u);
  EXPECT_NEAR(hull_area(hull), 8 * (std::sqrt(2.0) - 1), 1e-12);
}

TEST(Overlap, TouchingIsNone) {
  const Patch patch = loops({square(0, 0, 1)});
  EXPECT_TRUE(overlap_hull(patch, loops({square(1, 0, 1)})).empty());
  EXPECT_TRUE(overlap_hull(patch, loops({square(1, 1, 1)})).empty());
  EXPECT_TRUE(overlap_hull(patch, loops({square(3, 3, 1)})).empty());
}

TEST(Overlap, HullOfARingReachesItsOutside) {
  const auto hull =
      overlap_hull(loops({square(0, 0, 3), square(1, 1, 1)}), loops({square(0, 0, 3)}));
  EXPECT_NEAR(hull_area(hull), 9, 1e-12);
}

TEST(Overlap, WhatLiesInTheHoleIsNone) {
  EXPECT_TRUE(
      overlap_hull(loops({square(0, 0, 3), square(1, 1, 1)}), loops({square(1, 1, 1)})).empty());
}

TEST(Overlap, HullOfTwoFeetSpansThem) {
  const auto hull =
      overlap_hull(loops({square(0, 0, 1), square(4, 0, 1)}), loops({square(-1, -1, 7)}));
  EXPECT_NEAR(hull_area(hull), 5, 1e-12);
}

TEST(Overlap, ACornerThatOnlyTouchesDoesNotWidenTheHull) {
  // the second foot only touches the other patch along x = 4
  const auto hull = overlap_hull(loops({square(0, 0, 1), square(4, 0, 1)}),
                                 loops({{{0, 0}, {4, 0}, {4, 1}, {0, 1}}}));
  EXPECT_NEAR(hull_area(hull), 1, 1e-12);
}

TEST(Overlap, LShapeHasTheHullOfItsFiveOuterCorners) {
  const std::vector<Vec2> l = {{0, 0}, {2, 0}, {2, 1}, {1, 1}, {1, 2}, {0, 2}};
  const auto hull = overlap_hull(loops({l}), loops({l}));
  EXPECT_EQ(hull.size(), 5u);
  EXPECT_NEAR(hull_area(hull), 3.5, 1e-12);
}

}  // namespace
}  // namespace skewback::audit
