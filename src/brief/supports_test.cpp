// Supports given by a corner or along a curve.

#include <algorithm>
#include <cmath>

#include "brief/outline.hpp"
#include "brief/sample_text.hpp"

namespace skewback {
namespace {

using namespace sample;
using ::testing::HasSubstr;

std::string point(double x, double y) {
  std::ostringstream text;
  text.precision(17);
  text << "[\"" << x << " m\", \"" << y << " m\"]";
  return text.str();
}

std::string points(const std::vector<Vec2>& list) {
  std::string text;
  for (const Vec2& p : list) text += (text.empty() ? "[" : ", ") + point(p.x(), p.y());
  return text + "]";
}

// drovers-hop with another plan; straight free edges, people anywhere.
std::string with_plan(const std::vector<Vec2>& outline, const std::string& supports) {
  std::string text = drovers_hop();
  const auto from = text.find("[plan]"), to = text.find("[form]");
  text = text.substr(0, from) + "[plan]\noutline = " + points(outline) +
         "\nfree_edges = \"straight\"\n" + supports + text.substr(to);
  text = with("count = 23", "length = \"0.4 m\"", text);
  const auto walk = text.find("[walkway]"), parapet = text.find("[parapet]");
  text = text.substr(0, walk) + text.substr(parapet);
  const auto tie = text.find("[[ground.tie]]"), print = text.size();
  return text.substr(0, tie) + text.substr(print);
}

std::string corner(const std::string& id, const Vec2& at, const std::string& width) {
  return "[[plan.support]]\nid = \"" + id + "\"\nat = " + point(at.x(), at.y()) + "\nwidth = \"" +
         width + "\"\n";
}

std::string four(const std::string& width) {
  return corner("a", {-3, -3}, width) + corner("b", {3, -3}, width) + corner("c", {3, 3}, width) +
         corner("d", {-3, 3}, width);
}

const std::vector<Vec2> kSquare = {{-3, -3}, {3, -3}, {3, 3}, {-3, 3}};

TEST(SupportAtCorner, IsCutSquareToTheBisector) {
  for (const bool clockwise : {false, true}) {
    std::vector<Vec2> outline = kSquare;
    if (clockwise) std::reverse(outline.begin(), outline.end());
    const Result<Brief> read = read_brief_text(with_plan(outline, four("0.9 m")), "some.toml");
    ASSERT_TRUE(read.ok()) << all_of(read.faults());
    const double leg = 0.9 / std::sqrt(2.0);  // by hand
    ASSERT_EQ(read->plan.supports.size(), 4u);
    const Support& first = read->plan.supports[0];
    EXPECT_EQ(first.id, "a");
    EXPECT_NEAR((first.a - Vec2(-3, -3 + leg)).norm(), 0, 1e-12);
    EXPECT_NEAR((first.b - Vec2(-3 + leg, -3)).norm(), 0, 1e-12);
    EXPECT_NEAR(area(read->plan.outline), 36 - 4 * leg * leg / 2, 1e-12);
    EXPECT_EQ(read->plan.outline.size(), 8u);
  }
}

// Two sides that meet at 60 degrees, drawn with corners 0.2 m apart: the cut passes over some.
TEST(SupportAtCorner, PassesOverTheCornersItCutsAway) {
  std::vector<Vec2> outline{{0, 0}};
  const Vec2 on(std::cos(0.5236), -std::sin(0.5236)), back(std::cos(0.5236), std::sin(0.5236));
  for (int k = 1; k <= 20; ++k) outline.push_back(0.2 * k * on);
  for (int k = 20; k >= 1; --k) outline.push_back(0.2 * k * back);
  const Vec2 end = outline[20], other = outline[21];
  const std::string far = "[[plan.support]]\nid = \"far\"\nends = " + points({end, other}) + "\n";
  const Result<Brief> read =
      read_brief_text(with_plan(outline, corner("tip", {0, 0}, "0.9 m") + far), "some.toml");
  ASSERT_TRUE(read.ok()) << all_of(read.faults());
  const Support& tip = read->plan.supports[0];
  EXPECT_NEAR((tip.b - tip.a).norm(), 0.9, 1e-12);
  EXPECT_NEAR(tip.a.x(), tip.b.x(), 1e-12);               // square to the x axis
  EXPECT_NEAR(tip.a.x(), 0.45 / std::tan(0.5236), 1e-9);  // by hand
  EXPECT_EQ(read->plan.outline.size(),
            outline.size() - 9 + 2);  // tip and four on each side are gone
}

// Sides that bow in: the line is still as wide as asked and square to the bisector.
TEST(SupportAtCorner, OnCurvedSides) {
  std::vector<Vec2> outline;
  for (int side = 0; side < 4; ++side)
    for (int k = 0; k < 30; ++k) {
      const double t = k / 30.0, u = 7.5 * t - 3.75, v = -3.75 + 4 * 0.75 * t * (1 - t);
      outline.push_back(Eigen::Rotation2Dd(side * std::acos(-1.0) / 2) * Vec2(u, v));
    }
  std::string supports;
  for (int side = 0; side < 4; ++side)
    supports += corner(std::string(1, static_cast<char>('a' + side)),
                       outline[static_cast<std::size_t>(30 * side)], "0.9 m");
  const Result<Brief> read = read_brief_text(with_plan(outline, supports), "some.toml");
  ASSERT_TRUE(read.ok()) << all_of(read.faults());
  for (const Support& s : read->plan.supports) {
    const Vec2 middle = (s.a + s.b) / 2, along = s.b - s.a;
    EXPECT_NEAR(along.norm(), 0.9, 1e-12) << s.id;
    EXPECT_NEAR(middle.dot(along), 0, 1e-9) << s.id;  // bisectors pass through the middle
  }
}

std::string faults_of(const std::string& text) {
  const Result<Brief> read = read_brief_text(text, "some.toml");
  return read.ok() ? "read" : all_of(read.faults());
}

TEST(SupportAtCorner, WhatCannotBeCutIsRefused) {
  EXPECT_THAT(
      faults_of(with_plan(kSquare, four("12 m"))),
      HasSubstr("plan.support[1].width: found 12 m where the sides leave room for 8.4853 m"));
  EXPECT_THAT(faults_of(with_plan(kSquare, corner("a", {0, -3}, "0.9 m") + four("0.9 m"))),
              HasSubstr("(0, -3) m, where the outline has no corner"));
  std::vector<Vec2> notched = kSquare;
  notched.insert(notched.begin() + 1, Vec2(0, -2));
  EXPECT_THAT(faults_of(with_plan(notched, corner("e", {0, -2}, "0.5 m") + four("0.9 m"))),
              HasSubstr("points into the plan"));
  std::string text = with_plan(kSquare, four("0.9 m"));
  EXPECT_THAT(faults_of(with("width = \"0.9 m\"\n", "", text)), HasSubstr("a corner and no width"));
  EXPECT_THAT(faults_of(with("at = [\"-3 m\", \"-3 m\"]\n", "", text)),
              ::testing::AllOf(HasSubstr("a width without `at`"),
                               HasSubstr("plan.support[1].ends: found nothing")));
  EXPECT_THAT(
      faults_of(with("width = \"0.9 m\"\n",
                     "width = \"0.9 m\"\nends = " + points({{-3, -3}, {3, -3}}) + "\n", text)),
      HasSubstr("more than one of `ends`, `at` and `between`"));
}

// One end on an arc of the given radius over 2 m, the other straight.
std::vector<Vec2> round_end(double radius) {
  std::vector<Vec2> outline;
  const double half = std::asin(1 / radius);
  for (int k = 0; k <= 40; ++k) {
    const double t = -half + 2 * half * k / 40;
    outline.emplace_back(4 - radius * std::cos(half) + radius * std::cos(t), radius * std::sin(t));
  }
  outline.emplace_back(-4, 1);
  outline.emplace_back(-4, -1);
  return outline;
}

std::string along_arc() {
  return "[[plan.support]]\nid = \"round\"\nbetween = " + points({{4, -1}, {4, 1}}) +
         "\n[[plan.support]]\nid = \"flat\"\nends = " + points({{-4, 1}, {-4, -1}}) + "\n";
}

TEST(SupportAlongACurve, FlatEnoughIsDrawnStraight) {
  // sagitta r - sqrt(r2 - 1): 19.9 mm of 25.14 m
  const Result<Brief> read = read_brief_text(with_plan(round_end(25.14), along_arc()), "some.toml");
  ASSERT_TRUE(read.ok()) << all_of(read.faults());
  EXPECT_NEAR(area(read->plan.outline), 16, 1e-9);
  EXPECT_EQ(read->plan.outline.size(), 4u);
  EXPECT_NEAR((read->plan.supports[0].b - Vec2(4, 1)).norm(), 0, 1e-12);
}

// Either way round the outline is written.
TEST(SupportAlongACurve, AnArcBowedOutwardStandsOnItsChord) {
  std::vector<Vec2> outline = round_end(5);
  for (const bool turned : {false, true}) {
    if (turned) std::reverse(outline.begin(), outline.end());
    const Result<Brief> read = read_brief_text(with_plan(outline, along_arc()), "some.toml");
    ASSERT_TRUE(read.ok()) << all_of(read.faults());
    EXPECT_NEAR(area(read->plan.outline), 16, 1e-9);
    EXPECT_EQ(read->plan.supports[0].id, "round");
    EXPECT_NEAR(read->plan.supports[0].bow_m, 5 - std::sqrt(24.0), 1e-9);  // sagitta
    EXPECT_EQ(read->plan.supports[1].bow_m, 0);
  }
}

TEST(SupportAlongACurve, AnArcBowedInwardIsToBeDrawnStraightOrDivided) {
  std::vector<Vec2> outline = round_end(5);
  for (std::size_t i = 0; i + 2 < outline.size(); ++i) outline[i].x() = 8 - outline[i].x();
  // sagitta of 5 m: 101 mm; of a half of the arc about a quarter: 25 mm, of a third 11 mm
  const std::string says = faults_of(with_plan(outline, along_arc()));
  EXPECT_THAT(says, HasSubstr("bows 0.101 m into the plan"));
  EXPECT_THAT(says, HasSubstr("0.101 m further in, or divide it into 3 supports"));
  EXPECT_THAT(says, HasSubstr("plan.support[1].between"));
}

TEST(SupportAlongACurve, MoreThanAQuarterOfItsChordIsNoSupport) {
  // sagitta of 1.1 m over 2 m: 642 mm
  EXPECT_THAT(faults_of(with_plan(round_end(1.1), along_arc())),
              HasSubstr("bows 0.6417 m from its chord; expected no more than 0.5 m"));
}

TEST(SupportAlongACurve, OffTheOutlineIsRefused) {
  std::string text = with_plan(round_end(30), along_arc());
  EXPECT_THAT(faults_of(with("between = [[\"4 m\"", "between = [[\"4.5 m\"", text)),
              HasSubstr("off the outline; expected points on the outline"));
}

}  // namespace
}  // namespace skewback
