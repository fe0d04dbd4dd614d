// Linear pressure without tension against closed forms.

#include <gtest/gtest.h>

#include <cmath>

#include "stand/stand.hpp"

namespace skewback {
namespace {

Polygon rectangle_at(double x0, double x1, double y0, double y1) {
  return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
}

Polygon reversed(Polygon p) { return {p.rbegin(), p.rend()}; }

// Source: closed form. e <= h/6: N/(bh) (1 + 6e/h); beyond: 2N / (3b (h/2 - e)).
TEST(PublishedPressure, Rectangle) {
  const double b = 0.7, h = 0.4, N = 1e5;
  const Regions contact = {{rectangle_at(-b / 2, b / 2, -h / 2, h / 2), {}}};
  for (const double e : {0.0, 0.02, h / 6, 0.1, 0.15, 0.19, 0.199}) {
    const double expected =
        e <= h / 6 ? N / (b * h) * (1 + 6 * e / h) : 2 * N / (3 * b * (h / 2 - e));
    for (const double side : {1.0, -1.0}) {
      const auto peak = peak_pressure(contact, N, Vec2(0, side * e));
      ASSERT_TRUE(peak.has_value()) << "e " << e;
      EXPECT_NEAR(*peak / expected, 1, 1e-6) << "e " << e;
    }
  }
}

// Source: closed form. The triangle of pressure is 3 (h/2 - e) deep and falls to nothing at its
// end.
TEST(PublishedPressure, RectangleInPart) {
  const double b = 0.7, h = 0.4, N = 1e5, e = 0.12, deep = 3 * (h / 2 - e);
  const Regions contact = {{rectangle_at(1, 1 + b, 2, 2 + h), {}}};
  const auto found = linear_pressure(contact, N, Vec2(1 + b / 2, 2 + h / 2 - e));
  ASSERT_TRUE(found.has_value());
  EXPECT_NEAR(found->compressed_m2 / (b * deep), 1, 1e-6);
  EXPECT_NEAR(found->plane.dot(Vec3(1, 1 + b / 3, 2)) / found->peak_pa, 1, 1e-6);
  EXPECT_NEAR(found->plane.dot(Vec3(1, 1 + b / 3, 2 + deep)) / found->peak_pa, 0, 1e-6);
}

TEST(PublishedPressure, NoneOutside) {
  const Regions contact = {{rectangle_at(-1, 1, -1, 1), {}}};
  EXPECT_FALSE(peak_pressure(contact, 1, Vec2(1.01, 0)).has_value());
  EXPECT_FALSE(peak_pressure(contact, -1, Vec2(0, 0)).has_value());
}

// Source: closed form. Two axes at once, inside the kern: N/A (1 + 6 ex/b + 6 ey/h).
TEST(PublishedPressure, RectangleBentBothWays) {
  const double b = 2, h = 1, N = 3;
  const Regions contact = {{rectangle_at(5, 5 + b, 7, 7 + h), {}}};
  const double ex = 0.1, ey = 0.06;
  const auto peak = peak_pressure(contact, N, Vec2(6 + ex, 7.5 - ey));
  EXPECT_NEAR(peak.value(), N / (b * h) * (1 + 6 * ex / b + 6 * ey / h), 1e-6);
}

// Source: closed form. Corner of a square, load at (s/4, s/4) from the corner on the diagonal: the
// pressure is a pyramid over the triangle of legs s, its centre at a quarter of them; N = p s^2
// / 6.
TEST(PublishedPressure, CornerOfASquare) {
  const double s = 1, N = 10;
  const Regions contact = {{rectangle_at(0, s, 0, s), {}}};
  const auto peak = peak_pressure(contact, N, Vec2(s / 4, s / 4));
  EXPECT_NEAR(peak.value() / (6 * N / (s * s)), 1, 1e-6);
}

// Source: closed form. Hollow square, sides a and c: kern along the axis (a^2 + c^2) / (6 a), where
// the peak is twice the mean.
TEST(PublishedPressure, HollowSquareKern) {
  const double a = 0.5, c = 0.32, N = 4e4, A = a * a - c * c;
  const Regions contact = {{rectangle_at(-a / 2, a / 2, -a / 2, a / 2),
                            {reversed(rectangle_at(-c / 2, c / 2, -c / 2, c / 2))}}};
  const double kern = (a * a + c * c) / (6 * a);
  EXPECT_NEAR(peak_pressure(contact, N, Vec2(kern, 0)).value() / (2 * N / A), 1, 1e-6);
  EXPECT_NEAR(peak_pressure(contact, N, Vec2(0, -kern / 2)).value() / (1.5 * N / A), 1, 1e-6);
}

// Source: closed form. The pressure rests on the near wall alone, a triangle over its thickness w:
// resultant at a third of w from the outer face, peak 2N / (a w).
TEST(PublishedPressure, HollowSquareOnOneWall) {
  const double a = 0.5, w = 0.09, c = a - 2 * w, N = 4e4;
  const Regions contact = {{rectangle_at(-a / 2, a / 2, -a / 2, a / 2),
                            {reversed(rectangle_at(-c / 2, c / 2, -c / 2, c / 2))}}};
  const auto peak = peak_pressure(contact, N, Vec2(a / 2 - w / 3, 0));
  EXPECT_NEAR(peak.value() / (2 * N / (a * w)), 1, 1e-6);
}

// Source: closed form. Two separate parts; the nearer one carries all, in a triangle from its inner
// edge: resultant two thirds across it, peak 2N / area.
TEST(PublishedPressure, TwoSeparateParts) {
  const Regions contact = {{rectangle_at(-1, -0.5, 0, 2), {}}, {rectangle_at(0.5, 1, 0, 2), {}}};
  const auto peak = peak_pressure(contact, 6, Vec2(0.5 + 1.0 / 3, 1));
  EXPECT_NEAR(peak.value(), 2 * 6 / (0.5 * 2), 1e-5);
}

}  // namespace
}  // namespace skewback
