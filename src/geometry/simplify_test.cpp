#include "geometry/simplify.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace skewback {
namespace {

TEST(Simplify, FromAPointToASegment) {
  const Vec2 a(0, 0), b(4, 0);
  EXPECT_EQ(share_along({1, 3}, a, b), 0.25);
  EXPECT_EQ(off_segment({1, 3}, a, b), 3);
  EXPECT_EQ(off_segment({-3, 4}, a, b), 5) << "before its beginning";
  EXPECT_EQ(off_segment({7, 4}, a, b), 5) << "past its end";
  EXPECT_EQ(share_along({7, 4}, a, a), 0);
  EXPECT_EQ(off_segment({3, 4}, a, a), 5) << "of no length";
}

TEST(Simplify, CornersStayAndWhatLiesBetweenGoes) {
  const Polygon square{{0, 0}, {1, 0}, {2, 0}, {2, 1}, {2, 2}, {1, 2.0005}, {0, 2}, {0, 1}};
  EXPECT_EQ(simplified(square, 1e-3), (Polygon{{0, 0}, {2, 0}, {2, 2}, {0, 2}}));
  EXPECT_EQ(simplified(square, 1e-4).size(), 5u) << "half a millimetre off is kept";
  const Polygon triangle{{0, 0}, {1, 0}, {0, 1}};
  EXPECT_EQ(simplified(triangle, 10), triangle);
  EXPECT_EQ(simplified_line({{0, 0}, {1, 1e-4}, {2, 0}, {2, 1}}, 1e-3),
            (std::vector<Vec2>{{0, 0}, {2, 0}, {2, 1}}));
}

// The bound that is promised: no point is farther from what comes back than the tolerance.
TEST(Simplify, NoPointIsFartherOffThanSaid) {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> wave(0, 0.05), power(-4, -1);
  for (int trial = 0; trial < 200; ++trial) {
    const double tolerance_m = std::pow(10.0, power(random));
    Polygon ring;
    for (int i = 0; i < 60; ++i) {
      const double turn = 2 * M_PI * i / 60, r = 1 + wave(random);
      ring.emplace_back(r * std::cos(turn), r * std::sin(turn));
    }
    const Polygon few = simplified(ring, tolerance_m);
    ASSERT_LE(few.size(), ring.size());
    for (const Vec2& p : ring) {
      double off = 1e9;
      for (std::size_t i = 0; i < few.size(); ++i)
        off = std::min(off, off_segment(p, few[i], few[(i + 1) % few.size()]));
      EXPECT_LE(off, tolerance_m + 1e-12);
    }
  }
}

}  // namespace
}  // namespace skewback
