#include "print/fill.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "print/sample_sections.hpp"

namespace skewback {
namespace {

using namespace sample;

double length_m(const Stroke& s) {
  double sum = 0;
  for (std::size_t i = 0; i < s.points.size(); ++i) {
    sum += (s.points[(i + 1) % s.points.size()].p - s.points[i].p).norm();
  }
  return sum;
}

double laid_m2(const Stroke& s) {
  double sum = 0;
  for (std::size_t i = 0; i < s.points.size(); ++i) {
    sum += (s.points[(i + 1) % s.points.size()].p - s.points[i].p).norm() * s.points[i].share_m;
  }
  return sum;
}

Polygon outline(const Stroke& s) {
  Polygon p;
  for (const PathPoint& point : s.points) p.push_back(point.p);
  return p;
}

/// Points every 2 mm or so along a closed stroke.
Polygon dense(const Stroke& s) {
  Polygon out;
  for (std::size_t i = 0; i < s.points.size(); ++i) {
    const Vec2 a = s.points[i].p, d = s.points[(i + 1) % s.points.size()].p - a;
    const int n = std::max(1, static_cast<int>(d.norm() / 0.002));
    for (int k = 0; k < n; ++k) out.push_back(a + static_cast<double>(k) / n * d);
  }
  return out;
}

/// Greatest distance of a point of one path from the other.
double apart_m(const Stroke& a, const Stroke& b) {
  const Polygon pa = dense(a), pb = dense(b);
  double most = 0;
  for (const Vec2& p : pa) {
    double least = 1e9;
    for (const Vec2& q : pb) least = std::min(least, (p - q).squaredNorm());
    most = std::max(most, least);
  }
  return std::sqrt(most);
}

/// One closed path, counter-clockwise, that crosses nothing, lies in the section, keeps to the
/// limits and lays the section's area.
void expect_sound(const Region& section, const Fill& fill, const FillLimits& limits,
                  const std::string& what) {
  SCOPED_TRACE(what);
  ASSERT_EQ(fill.strokes.size(), 1U);
  const Stroke& s = fill.strokes.front();
  EXPECT_TRUE(s.closed);
  const Polygon path = outline(s);
  EXPECT_GT(area(path), 0);
  EXPECT_FALSE(self_crossing(path));
  int outside = 0;
  for (const Vec2& p : dense(s)) outside += contains(section, p) ? 0 : 1;
  EXPECT_EQ(outside, 0) << "points of the path outside the section";
  for (std::size_t i = 0; i < path.size(); ++i) {
    EXPECT_LE((path[(i + 1) % path.size()] - path[i]).norm(), limits.step_m + 1e-9);
    EXPECT_GE(s.points[i].share_m, limits.bead_min_m - 1e-12);
    EXPECT_LE(s.points[i].share_m, limits.bead_max_m + 1e-12);
  }
  EXPECT_NEAR(fill.section_m2, area(section), 1e-12);
  EXPECT_NEAR(laid_m2(s) / fill.section_m2, 1, 1e-9);
  EXPECT_LE(fill.outside_m, limits.proud_m + 1e-6);
}

void expect_cover(const Fill& fill, double gap, double overfill) {
  EXPECT_NEAR(fill.laid_m2 / fill.section_m2, 1, 0.01);
  EXPECT_LE(fill.gap_m2 / fill.section_m2, gap);
  EXPECT_LE(fill.overfill_m2 / fill.section_m2, overfill);
}

// ---- sections ----------------------------------------------------------------------------------

TEST(Fill, RingIsOneBeadOnTheMiddleOfItsWall) {
  const Ladder one{.tubes = 1};
  const FillLimits limits;
  const Fill fill = fill_section(region(one), limits);
  expect_sound(region(one), fill, limits, "ring");
  expect_cover(fill, 0.015, 0.03);  // outside its four rounded corners
  EXPECT_TRUE(fill.troubles.empty());
  // rectangle on the middle of the leaf, corners rounded to r
  const double a = one.length() - one.leaf, b = one.depth() - one.leaf, r = limits.turn_radius_m;
  EXPECT_NEAR(length_m(fill.strokes[0]), 2 * (a + b) - (8 - 2 * std::numbers::pi) * r, 0.001);
  EXPECT_NEAR(fill.turn_radius_min_m, r, 1e-9);
  // and on the straight the bead is the leaf
  EXPECT_NEAR(fill.share_min_m, one.leaf, 0.01 * one.leaf);
}

// What its corners have more of wall than a bead takes is spread along the leaves: a bead on the
// middle of a leaf of 45 mm stands for 47 mm at most where it may stand out by 1 mm.
TEST(Fill, BeadsStandOutOfTheOutlineByNoMoreThanTheyMay) {
  const Ladder one{.tubes = 1};
  FillLimits limits;
  const Fill fill = fill_section(region(one), limits);
  EXPECT_GT(fill.outside_m, 0.0005);  // the corners' surplus is somewhere
  EXPECT_LE(fill.outside_m, limits.proud_m + 1e-6);
  for (const PathPoint& point : fill.strokes[0].points) {
    const Vec2& p = point.p;
    const double side = std::min({p.x(), p.y(), one.length() - p.x(), one.depth() - p.y()});
    EXPECT_LE(point.share_m / 2 - side, limits.proud_m + 1e-6);
  }
  limits.proud_m = 0.02;  // as good as none: beads bulge beside the corners
  EXPECT_GT(fill_section(region(one), limits).outside_m, 0.003);
}

TEST(Fill, LadderIsOneClosedPath) {
  const Ladder ladder;
  const FillLimits limits;
  const Fill fill = fill_section(region(ladder), limits);
  expect_sound(region(ladder), fill, limits, "ladder");
  expect_cover(fill, 0.021, 0.03);
  EXPECT_TRUE(fill.troubles.empty());
  // webs as two beads of half the web each; their folds turn on a quarter of it
  EXPECT_NEAR(fill.share_min_m, ladder.web / 2, 0.03 * ladder.web);
  EXPECT_NEAR(fill.turn_radius_min_m, ladder.web / 4, 1e-4);
  // each web's round end, of radius web / 2, reaches 5 mm into the leaf: a segment of 96.8 mm2
  EXPECT_NEAR(fill.overlap_m2, (ladder.tubes - 1) * 96.8e-6, (ladder.tubes - 1) * 2e-6);
  const Cover cover = measure_cover(region(ladder), fill.strokes);
  EXPECT_NEAR(fill.overfill_m2, std::max(cover.twice_m2 - fill.overlap_m2, 0.0) + cover.outside_m2,
              1e-12);
  // Once round the middle of the leaves; at each web twice from the middle of the upper leaf to the
  // fold, which starts a quarter of a web over the lower leaf less the overlap. Of the leaf above,
  // half a web is not run along; of the fold, half a web is. A rounded corner saves 2 r - pi r / 2.
  const double q = ladder.web / 4, saved = 2 - std::numbers::pi / 2;
  const double around =
      2 * (ladder.length() + ladder.depth() - 2 * ladder.leaf) - 4 * saved * limits.turn_radius_m;
  const double down = ladder.depth() - 1.5 * ladder.leaf - (q - limits.overlap_m);
  const double per_web = 2 * down - 2 * saved * limits.turn_radius_m - 2 * saved * q;
  EXPECT_NEAR(length_m(fill.strokes[0]), around + (ladder.tubes - 1) * per_web, 0.02);
}

TEST(Fill, LeafRunsOnUnderTheWebs) {
  const Ladder ladder;
  const Fill fill = fill_section(region(ladder), {});
  // the lower leaf is one straight line from corner to corner: nothing of the path lies between its
  // middle and the feet of the webs
  for (const Vec2& p : dense(fill.strokes[0])) {
    const bool inside = p.x() > 0.05 && p.x() < ladder.length() - 0.05;
    if (inside && p.y() < ladder.leaf - 0.006) {
      EXPECT_NEAR(p.y(), ladder.leaf / 2, 2e-4);
    }
  }
}

TEST(Fill, UpstandsAreJoinedIn) {
  const Region section = with_upstands({});
  const Fill fill = fill_section(section, {});
  expect_sound(section, fill, {}, "upstands");
  expect_cover(fill, 0.02, 0.03);
  EXPECT_TRUE(fill.troubles.empty());
}

TEST(Fill, SolidRectangleAndTrapezoid) {
  const Region rectangle{box(0, 0, 0.9, 0.34), {}};
  const Fill a = fill_section(rectangle, {});
  expect_sound(rectangle, a, {}, "rectangle");
  expect_cover(a, 0.02, 0.02);
  const Region trapezoid{{{0, 0}, {0.9, 0.03}, {0.9, 0.31}, {0, 0.36}}, {}};
  const Fill b = fill_section(trapezoid, {});
  expect_sound(trapezoid, b, {}, "trapezoid");
  expect_cover(b, 0.04, 0.04);
}

TEST(Fill, SolidEllAndHexagon) {
  const Region ell{{{0, 0}, {0.65, 0}, {0.65, 0.7}, {0.53, 0.7}, {0.53, 0.35}, {0, 0.35}}, {}};
  const Fill a = fill_section(ell, {});
  expect_sound(ell, a, {}, "ell");
  expect_cover(a, 0.04, 0.04);
  Region hexagon;
  for (int i = 0; i < 6; ++i) {
    hexagon.outer.emplace_back(0.4 * std::cos(i * std::numbers::pi / 3),
                               0.4 * std::sin(i * std::numbers::pi / 3));
  }
  const Fill b = fill_section(hexagon, {});
  expect_sound(hexagon, b, {}, "hexagon");
  expect_cover(b, 0.04, 0.04);
}

// Where loops are joined at a sharp corner, dropped corners leave a turn of 5 mm; moved apart along
// the path they leave the least radius.
TEST(Fill, CrampedCornersMoveApart) {
  const Region section{{{0, 0}, {0.8, 0}, {0.89, 0.36}, {-0.15, 0.36}}, {}};
  FillLimits limits;
  limits.turn_radius_m = 0.0075;
  limits.turn_radius_least_m = 0.006;
  const Fill fill = fill_section(section, limits);
  expect_sound(section, fill, limits, "trapezoid with sharp corners");
  EXPECT_GE(fill.tightest_m, fill.tightest_needs_m);
}

TEST(Fill, WarrenOfTriangles) {
  const Region section = warren(false);
  const Fill fill = fill_section(section, {});
  expect_sound(section, fill, {}, "warren");
  expect_cover(fill, 0.03, 0.05);  // sharp corners of tubes leave more than square ones
  // ends that stand square leave a triangle beside the last tube, laid as solid
  const Region square = warren(true);
  const Fill ends = fill_section(square, {});
  expect_sound(square, ends, {}, "warren with square ends");
  EXPECT_LT(ends.gap_m2 / ends.section_m2, 0.05);
  EXPECT_LT(ends.overfill_m2 / ends.section_m2, 0.07);
}

TEST(Fill, TwoRowsOfTubes) {
  const Ladder row{.tubes = 4, .height = 0.18};
  Region section = region(row);
  for (Polygon h : region(row).holes) {
    for (Vec2& p : h) p.y() += row.height + row.web;
    section.holes.push_back(h);
  }
  section.outer = box(0, 0, row.length(), 2 * row.height + row.web + 2 * row.leaf);
  const Fill fill = fill_section(section, {});
  expect_sound(section, fill, {}, "two rows");
  expect_cover(fill, 0.02, 0.03);
}

TEST(Fill, ThickLeavesAreTwoBeads) {
  const Ladder thick{.tubes = 4, .leaf = 0.09};
  const Fill fill = fill_section(region(thick), {});
  expect_sound(region(thick), fill, {}, "thick leaves");
  expect_cover(fill, 0.02, 0.03);
}

TEST(Fill, ThinWebsAreSaid) {
  const Ladder thin{.tubes = 4, .web = 0.030};
  const Fill fill = fill_section(region(thin), {});
  expect_sound(region(thin), fill, {}, "thin webs");
  const auto web =
      std::find_if(fill.troubles.begin(), fill.troubles.end(), [](const std::string& trouble) {
        return trouble.starts_with(
            "a web of 30 mm is laid as two beads of 15 mm, under bead_min of 20 mm, at (");
      });
  EXPECT_NE(web, fill.troubles.end());
  // what is laid too wide shows
  EXPECT_GT(fill.laid_m2, 1.01 * fill.section_m2);
}

TEST(Fill, FinTooThinStaysBareAndIsSaid) {
  Region section = region({.tubes = 3});
  const double h = Ladder{}.depth();
  section.outer = {{0, 0},           {0.84, 0},       {0.84, h}, {0.316, h},
                   {0.316, h + 0.3}, {0.30, h + 0.3}, {0.30, h}, {0, h}};
  section.outer[1].x() = section.outer[2].x() = Ladder{.tubes = 3}.length();
  const Fill fill = fill_section(section, {});
  const bool said = std::any_of(
      fill.troubles.begin(), fill.troubles.end(),
      [](const std::string& trouble) { return trouble.find("stays bare") != std::string::npos; });
  EXPECT_TRUE(said);
  EXPECT_GT(fill.gap_m2, 0.016 * 0.28);
}

TEST(Fill, NothingToFill) {
  const Fill none = fill_section({}, {});
  EXPECT_TRUE(none.strokes.empty());
  const Fill speck = fill_section({box(0, 0, 0.01, 0.01), {}}, {});
  EXPECT_TRUE(speck.strokes.empty());
  EXPECT_FALSE(speck.troubles.empty());
}

// ---- steadiness --------------------------------------------------------------------------------

TEST(Fill, StartsWhereItIsTold) {
  const Region section = region({});
  const Fill plain = fill_section(section, {});
  for (const PathPoint& p : plain.strokes[0].points) {
    EXPECT_GE(p.p.x(), plain.strokes[0].points[0].p.x() - 1e-5);
  }
  const Vec2 start(1.2, 0.0);
  const Fill told = fill_section(section, {}, start);
  expect_sound(section, told, {}, "start");
  EXPECT_NEAR((told.strokes[0].points[0].p - Vec2(1.2, 0.0225)).norm(), 0, 2e-4);
}

TEST(Fill, TurnedSectionGivesTheSameFigures) {
  const Region section = with_upstands({.tubes = 5});
  const Vec2 start(0.6, 0.0);
  const Fill a = fill_section(section, {}, start);
  for (const double angle : {0.02, 0.2, -0.3}) {
    const Vec2 by(0.7, -0.4);
    const Region other = turned(section, angle, by);
    const Fill b = fill_section(other, {}, Vec2(Eigen::Rotation2Dd(angle) * start + by));
    expect_sound(other, b, {}, "turned");
    ASSERT_EQ(b.strokes.size(), 1U);
    EXPECT_NEAR(length_m(b.strokes[0]) / length_m(a.strokes[0]), 1, 1e-6);
    EXPECT_NEAR(b.laid_m2 / a.laid_m2, 1, 1e-5);
    EXPECT_NEAR(b.turn_radius_min_m, a.turn_radius_min_m, 1e-5);
    EXPECT_NEAR((b.gap_m2 - a.gap_m2) / a.section_m2, 0, 1e-3);
  }
}

TEST(Fill, NextLayerKeepsTheSamePath) {
  const Region section = with_upstands({});
  const Fill a = fill_section(section, {});
  Region next = section;  // every tube and the outline moved by a millimetre, each its own way
  std::mt19937 random(7);
  const auto step = [&] { return (static_cast<double>(random() % 2001) - 1000) * 1e-6; };
  for (Vec2& p : next.outer) p += Vec2(step(), step());
  for (Polygon& h : next.holes) {
    for (Vec2& p : h) p += Vec2(step(), step());
  }
  const Fill b = fill_section(next, {}, a.strokes[0].points[0].p);
  expect_sound(next, b, {}, "next layer");
  EXPECT_LT(apart_m(a.strokes[0], b.strokes[0]), 0.005);
  EXPECT_LT(apart_m(b.strokes[0], a.strokes[0]), 0.005);
  EXPECT_NEAR(static_cast<double>(b.strokes[0].points.size()),
              static_cast<double>(a.strokes[0].points.size()), 60);
}

TEST(Fill, OrderOfTubesDoesNotMatter) {
  Region section = with_upstands({});
  const Fill a = fill_section(section, {});
  std::reverse(section.holes.begin(), section.holes.end());
  const Fill b = fill_section(section, {});
  ASSERT_EQ(b.strokes[0].points.size(), a.strokes[0].points.size());
  EXPECT_LT(apart_m(a.strokes[0], b.strokes[0]), 1e-9);
}

TEST(Fill, SameSectionSamePath) {
  const Region section = with_upstands({});
  const Fill a = fill_section(section, {}), b = fill_section(section, {});
  ASSERT_EQ(a.strokes[0].points.size(), b.strokes[0].points.size());
  for (std::size_t i = 0; i < a.strokes[0].points.size(); ++i) {
    EXPECT_EQ(a.strokes[0].points[i].p, b.strokes[0].points[i].p);
    EXPECT_EQ(a.strokes[0].points[i].share_m, b.strokes[0].points[i].share_m);
  }
}

TEST(Fill, RandomLaddersAreSound) {
  constexpr unsigned kSeed = 20;
  std::mt19937 random(kSeed);
  const auto between = [&](double low, double high) {  // evenly by ratio
    return low * std::pow(high / low, static_cast<double>(random() % 100001) / 1e5);
  };
  double gap = 0, overfill = 0, off = 0;
  for (int i = 0; i < 150; ++i) {
    const Ladder ladder{.tubes = 1 + static_cast<int>(random() % 10),
                        .width = between(0.1, 0.5),
                        .height = between(0.1, 0.6),
                        .leaf = between(0.03, 0.055),
                        .web = between(0.042, 0.1)};
    Region section = i % 2 == 0 ? region(ladder) : with_upstands(ladder);
    if (ladder.length() < 0.5) section = region(ladder);
    section = turned(section, between(0.01, 0.2), {between(0.1, 3), between(0.1, 3)});
    const Fill fill = fill_section(section, {});
    expect_sound(section, fill, {},
                 "seed " + std::to_string(kSeed) + ", case " + std::to_string(i));
    gap = std::max(gap, fill.gap_m2 / fill.section_m2);
    overfill = std::max(overfill, fill.overfill_m2 / fill.section_m2);
    const double part = fill.laid_m2 / fill.section_m2;
    off = std::max(off, std::abs(part - 1));
    const bool said = std::any_of(
        fill.troubles.begin(), fill.troubles.end(),
        [](const std::string& trouble) { return trouble.starts_with("the beads come to"); });
    EXPECT_EQ(said, std::abs(part - 1) > 0.01);
  }
  RecordProperty("worst gap, per cent", std::to_string(100 * gap));
  RecordProperty("worst overfill, per cent", std::to_string(100 * overfill));
  EXPECT_LT(gap, 0.03);
  EXPECT_LT(overfill, 0.04);
  EXPECT_LT(off, 0.02);  // corners of leaves that are all but the greatest bead
}

}  // namespace
}  // namespace skewback
