#include "brief/curves.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "base/constants.hpp"
#include "brief/outline.hpp"
#include "brief/svg_path.hpp"

namespace skewback {
namespace {

double distance_to_line(const Vec2& p, const std::vector<Vec2>& line) {
  double least = HUGE_VAL;
  for (std::size_t i = 0; i + 1 < line.size(); ++i)
    least = std::min(least, distance_to_segment(p, line[i], line[i + 1]));
  return least;
}

// Half a turn of radius 2: sagitta r (1 - cos(step/2)), closed form.
TEST(Curves, ArcsTakeTheFewestChords) {
  for (const double r : {0.05, 0.9, 2.0, 40.0}) {
    const int n = arc_steps(r, kPi, kChord);
    EXPECT_LE(r * (1 - std::cos(kPi / n / 2)), kChord * (1 + 1e-9)) << r;
    if (n > 4) {  // no coarser than an eighth of a turn
      EXPECT_GT(r * (1 - std::cos(kPi / (n - 1) / 2)), kChord) << r;
    }
  }
  EXPECT_EQ(circle_corners({0, 0}, 1e-3, kChord).size(), 8u);
}

TEST(Curves, CubicStaysByItsChords) {
  const Vec2 a(0, 0), b(1, 2), c(3, -2), d(4, 0);
  std::vector<Vec2> line{a};
  append_cubic(line, b, c, d, kChord);
  EXPECT_EQ(line.back(), d);
  double worst = 0;
  for (int k = 0; k <= 1000; ++k) {  // Bernstein form
    const double t = k / 1000.0, s = 1 - t;
    const Vec2 p = s * s * s * a + 3 * s * s * t * b + 3 * s * t * t * c + t * t * t * d;
    worst = std::max(worst, distance_to_line(p, line));
  }
  EXPECT_LE(worst, kChord);
  EXPECT_GT(worst, kChord / 4);  // nor many times more chords than needed
}

TEST(SvgPath, CommandsAndTheirShortForms) {
  const auto parts = svg_path("M1,1 h2v2 l-2 0z m5 0 1 1 1-1", 1e-3);
  ASSERT_TRUE(parts.has_value());
  ASSERT_EQ(parts->size(), 2u);
  EXPECT_EQ((*parts)[0].line, (std::vector<Vec2>{{1, 1}, {3, 1}, {3, 3}, {1, 3}}));
  EXPECT_TRUE((*parts)[0].closed);
  EXPECT_EQ((*parts)[1].line,
            (std::vector<Vec2>{{6, 1}, {7, 2}, {8, 1}}));  // m after z: from (1, 1)
  EXPECT_FALSE((*parts)[1].closed);
}

// Quarter of a circle, run together as writers do: flags without blanks. Centre (0, 0), by hand.
TEST(SvgPath, ArcOfTwoFlagsRunTogether) {
  for (const char* data : {"M2 0A2 2 0 01 0 2", "M2,0 a2,2,0,0,1,-2,2"}) {
    const auto parts = svg_path(data, 1e-3);
    ASSERT_TRUE(parts.has_value()) << data;
    const auto& line = (*parts)[0].line;
    EXPECT_GT(line.size(), 8u);
    for (const Vec2& p : line) {
      EXPECT_NEAR(p.norm(), 2, 1e-12) << data;
      EXPECT_GE(p.x(), -1e-12);
      EXPECT_GE(p.y(), -1e-12);
    }
    EXPECT_EQ(line.back(), Vec2(0, 2));
  }
}

TEST(SvgPath, LargeArcGoesTheOtherWayRound) {
  const auto parts = svg_path("M2 0 A2 2 0 1 0 0 2", 1e-3);  // 270 degrees, y down the page
  ASSERT_TRUE(parts.has_value());
  double low = 0;
  for (const Vec2& p : (*parts)[0].line) {
    low = std::min(low, p.y());
    EXPECT_NEAR(p.norm(), 2, 1e-12);
  }
  EXPECT_NEAR(low, -2, 1e-3);
}

TEST(SvgPath, SmoothQuadraticMirrorsItsControl) {
  // two halves of one parabola y = x(1 - x), cut at x = 1/2: controls by de Casteljau
  const auto parts = svg_path("M0 0 Q.25 .25 .5 .25 T1 0", 1e-5);
  ASSERT_TRUE(parts.has_value());
  for (const Vec2& p : (*parts)[0].line) EXPECT_NEAR(p.y(), p.x() * (1 - p.x()), 1e-12);
}

TEST(SvgPath, WhatIsNoPathIsRefused) {
  for (const char* data : {"L1 1", "M1", "M1 1 L", "M1 1 X2 2", "M1 1 L nan 2", "M1 1 z 2 2",
                           "M0 0 A1 1 0 2 0 1 1", "M1e999 0"})
    EXPECT_FALSE(svg_path(data, 1e-3).has_value()) << data;
}

TEST(SvgTransform, InOrderFromOutsideIn) {
  const auto t = svg_transform("translate(1,2) rotate(90) scale(2)");
  ASSERT_TRUE(t.has_value());
  EXPECT_NEAR((*t * Vec2(1, 0) - Vec2(1, 4)).norm(), 0,
              1e-12);  // (2,0) turned is (0,2), moved (1,4)
  const auto about = svg_transform("rotate(180 3 4)");
  ASSERT_TRUE(about.has_value());
  EXPECT_NEAR((*about * Vec2(1, 1) - Vec2(5, 7)).norm(), 0, 1e-12);
  const auto matrix = svg_transform("matrix(1 2 3 4 5 6)");
  ASSERT_TRUE(matrix.has_value());
  EXPECT_NEAR((*matrix * Vec2(1, 1) - Vec2(9, 12)).norm(), 0, 1e-12);
  EXPECT_FALSE(svg_transform("turn(3)").has_value());
  EXPECT_FALSE(svg_transform("rotate(1 2)").has_value());
}

TEST(SvgLength, OnlyWhatHasASizeOnPaper) {
  EXPECT_DOUBLE_EQ(svg_length_m("210mm"), 0.21);
  EXPECT_DOUBLE_EQ(svg_length_m("1in"), 0.0254);
  for (const char* none : {"", "100", "100px", "50%", "-1mm", "mm"})
    EXPECT_EQ(svg_length_m(none), 0) << none;
}

}  // namespace
}  // namespace skewback
