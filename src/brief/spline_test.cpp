#include "brief/spline.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace skewback {
namespace {

TEST(Spline, TwoPointsAreTheLineBetweenThem) {
  const std::vector<Vec2> line{{0, 0}, {3, 4}};
  EXPECT_EQ(natural_spline(line, 0.05), line);
}

// By hand: knots 0, 1, 2 with values 0, 1, 0 have the second derivative -3 at the middle knot
// ((1/6)*4*m = -2), so at t = 0.5 the value is 0.5 + (0.125 - 0.5)/6*(-3) = 0.6875. With x(t) = t
// the chords would have to be 1 apart, so the points are drawn in the frame where they are.
TEST(Spline, ThreePointsMatchTheHandSolution) {
  const double c = 1 / std::sqrt(2.0);  // chords of length 1 at 45 degrees
  const auto curve = natural_spline({{0, 0}, {c, c}, {2 * c, 0}}, 0.5);
  ASSERT_EQ(curve.size(), 5u);
  EXPECT_NEAR(curve[1].x(), 0.5 * c, 1e-15);
  EXPECT_NEAR(curve[1].y(), 0.6875 * c, 1e-15);
  EXPECT_NEAR(curve[3].y(), 0.6875 * c, 1e-15);
}

TEST(Spline, RunsThroughItsPoints) {
  const std::vector<Vec2> points{{0, 0}, {1, 0.3}, {1.5, 1.2}, {3, 1}, {4.5, 2}};
  const auto curve = natural_spline(points, 0.05);
  for (const Vec2& p : points) {
    double least = HUGE_VAL;
    for (const Vec2& q : curve) least = std::min(least, (p - q).norm());
    EXPECT_EQ(least, 0);
  }
}

// The error of a spline through points of a circle falls with the fourth power of the spacing away
// from its natural ends (Ahlberg, Nilson and Walsh 1967; from memory).
TEST(Spline, MidErrorOnACircleFallsWithTheFourthPower) {
  const auto mid_error = [](int n) {
    std::vector<Vec2> points;
    for (int i = 0; i <= n; ++i) points.emplace_back(std::cos(3.0 * i / n), std::sin(3.0 * i / n));
    double worst = 0;
    for (const Vec2& p : natural_spline(points, 0.01))
      if (std::abs(p.x() - std::cos(1.5)) < 0.3 && p.y() > 0)
        worst = std::max(worst, std::abs(p.norm() - 1));
    return worst;
  };
  EXPECT_GT(mid_error(12) / mid_error(24), 12);
  EXPECT_LT(mid_error(12) / mid_error(24), 20);
}

}  // namespace
}  // namespace skewback
