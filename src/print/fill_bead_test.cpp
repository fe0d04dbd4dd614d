#include <gtest/gtest.h>

#include <cmath>

#include "print/fill_parts.hpp"

namespace skewback {
namespace {

using namespace filling;  // NOLINT: what is tested

/// Least radius of the circles through three points in a row, where the path turns.
double tightest_m(const Polygon& path) {
  double least = 1;
  const std::size_t n = path.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 a = path[(i + n - 1) % n], b = path[i], c = path[(i + 1) % n];
    const double twice = std::abs(cross(b - a, c - b));
    if (std::abs(turn(b - a, c - b)) < 0.02) continue;
    least = std::min(least, (b - a).norm() * (c - b).norm() * (c - a).norm() / (2 * twice));
  }
  return least;
}

Polygon eased(const Polygon& path, double retreat_m) {
  std::vector<Bend> bends;
  return rounded(path, 0.0075, {.retreat_m = retreat_m}, bends);
}

// A step of 9 mm square to the path has no room for two quarter turns of 6 mm (2 x 6 > 9); it has
// once it slants: 2 r tan(a / 2) = 9 mm / sin a at a = 77 degrees, 2 mm of retreat.
TEST(FillBead, AStepSlantsUntilItsTurnsHaveRoom) {
  const Polygon step = {{0, 0},       {0.2, 0},      {0.2, 0.1},  {0.1, 0.1},
                        {0.1, 0.091}, {0.05, 0.091}, {0.05, 0.2}, {0, 0.2}};
  EXPECT_LT(tightest_m(eased(step, 0)), 0.0059);
  const Polygon path = eased(step, 0.005);
  EXPECT_GE(tightest_m(path), 0.006 - 1e-6);
  EXPECT_NEAR(area(path), area(step), 0.1 * 0.009);  // by little: a step moves by 5 mm at most
}

// The end of a wedge-shaped strip, 10 mm wide, has no room for two turns of 6 mm; farther down,
// where the strip is wider, it has.
TEST(FillBead, TheEndOfAWedgeRetreatsToWhereItIsWider) {
  const Polygon wedge = {{-0.04, 0}, {0.04, 0}, {0.005, 0.2}, {-0.005, 0.2}};
  EXPECT_LT(tightest_m(eased(wedge, 0)), 0.00597);
  EXPECT_GE(tightest_m(eased(wedge, 0.015)), 0.006 - 1e-6);
}

}  // namespace
}  // namespace skewback
