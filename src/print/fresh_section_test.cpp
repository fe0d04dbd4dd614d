#include "print/fresh_section.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"

namespace skewback {
namespace {

Polygon rectangle(double x0, double y0, double x1, double y1) {
  return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
}
Polygon hole(double x0, double y0, double x1, double y1) {
  Polygon p = rectangle(x0, y0, x1, y1);
  std::ranges::reverse(p);
  return p;
}

// Two tubes of 300 x 310 mm with leaves of 45 mm, ends of 40 and a web of 50 mm.
Regions box_of_two_tubes() {
  Region region;
  region.outer = rectangle(0, 0, 0.73, 0.4);
  region.holes = {hole(0.04, 0.045, 0.34, 0.355), hole(0.39, 0.045, 0.69, 0.355)};
  return {region};
}

TEST(FreshSection, RectangleAsByHand) {
  const double b = 0.6, d = 0.2;
  const Region region{rectangle(1, 2, 1 + b, 2 + d), {}};
  const double lean = 0.3;
  Frame frame;  // turned about x: y climbs
  frame.y = {0, std::cos(lean), std::sin(lean)};
  frame.z = {0, -std::sin(lean), std::cos(lean)};
  const FreshLayer layer = fresh_layer({region}, frame, 0.01, 0.0012, 40);
  EXPECT_NEAR(layer.area_m2, b * d, 1e-12);
  EXPECT_NEAR(layer.second_moment_m4, b * d * d * d / 12, 1e-12);
  EXPECT_NEAR(layer.edge_m, d / 2, 1e-12);
  EXPECT_NEAR(layer.lean_rad, lean, 1e-12);
  EXPECT_NEAR(layer.middle_m.x(), 1.3, 1e-12);
  EXPECT_NEAR(layer.middle_m.y(), 2.1 * std::cos(lean), 1e-12);
}

TEST(FreshSection, LeavesAndWebsBesideTheTubes) {
  const std::vector<FreshWall> walls = fresh_walls(box_of_two_tubes(), 0.02);
  ASSERT_EQ(walls.size(), 8U);  // the outline faces no solid anywhere
  int leaves = 0, ends = 0, webs = 0;
  for (const FreshWall& wall : walls) {
    EXPECT_EQ(wall.outstand_m, 0);
    if (std::abs(wall.thickness_m - 0.045) < 1e-9) {
      ++leaves;
      EXPECT_NEAR(wall.span_m, 0.3 + 0.045, 1e-9);
    } else if (std::abs(wall.thickness_m - 0.04) < 1e-9) {
      ++ends;
      EXPECT_NEAR(wall.span_m, 0.31 + 0.04, 1e-9);
    } else {
      ++webs;
      EXPECT_NEAR(wall.thickness_m, 0.05, 1e-9);
      EXPECT_NEAR(wall.span_m, 0.31 + 0.05, 1e-9);
    }
  }
  EXPECT_EQ(leaves, 4);
  EXPECT_EQ(ends, 2);
  EXPECT_EQ(webs, 2);
}

// An upstand of 120 x 350 mm on a solid slab 1 m wide and 150 mm deep.
TEST(FreshSection, AnUpstandHasAFreeEdge) {
  Region region;
  region.outer = {{0, 0}, {1, 0}, {1, 0.15}, {0.12, 0.15}, {0.12, 0.5}, {0, 0.5}};
  const std::vector<FreshWall> walls = fresh_walls({region}, 0.02);
  const auto upstand = std::ranges::find_if(
      walls, [](const FreshWall& w) { return std::abs(w.thickness_m - 0.12) < 1e-9; });
  ASSERT_NE(upstand, walls.end());
  EXPECT_NEAR(upstand->outstand_m, 0.35, 1e-9);
  EXPECT_EQ(upstand->span_m, 0);
}

// A corner cut off in small steps and a side in many pieces are still one side.
TEST(FreshSection, ASideInPiecesIsOneSide) {
  Region region = box_of_two_tubes()[0];
  Polygon fine;
  const Polygon& coarse = region.holes[0];
  for (std::size_t k = 0; k < coarse.size(); ++k) {
    for (int part = 0; part < 10; ++part) {
      fine.emplace_back(coarse[k] + part / 10.0 * (coarse[(k + 1) % coarse.size()] - coarse[k]));
    }
  }
  std::ranges::rotate(fine, fine.begin() + 5);
  region.holes[0] = fine;
  const std::vector<FreshWall> walls = fresh_walls({region}, 0.02);
  ASSERT_EQ(walls.size(), 8U);
  for (const FreshWall& wall : walls) EXPECT_GT(wall.span_m, 0.34);
}

TEST(FreshSection, EmptySectionHasNoArea) {
  EXPECT_EQ(fresh_layer({}, {}, 0.01, 0, 40).area_m2, 0);
  EXPECT_TRUE(fresh_walls({}, 0.02).empty());
}

// A nib of 0.5 x 1 mm that facets left: its sides face each other, no wall anybody lays.
TEST(FreshSection, WhatIsSmallerThanABeadIsNoWall) {
  Region region{{{0, 0},
                 {0.3, 0},
                 {0.3, 0.2},
                 {0.1505, 0.2},
                 {0.1505, 0.201},
                 {0.15, 0.201},
                 {0.15, 0.2},
                 {0, 0.2}},
                {}};
  const auto slivers = [&](double bead_min) {
    return std::ranges::count_if(fresh_walls({region}, bead_min), [](const FreshWall& wall) {
      return wall.span_m == 0 && wall.outstand_m < 0.02;
    });
  };
  EXPECT_EQ(slivers(0.02), 0);
  EXPECT_GT(slivers(0.0001), 0);
}

}  // namespace
}  // namespace skewback
