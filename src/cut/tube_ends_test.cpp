#include "cut/tube_ends.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace skewback {
namespace {

constexpr double kLength = 0.5;  // m, from bed to bed, along y

Frame low_frame() { return frame_on({Vec3::Zero(), Vec3::UnitY()}); }

/// A rectangle in the bed at y, `from` to `to` across, 0.2 m high.
Ring rectangle(double y, double from, double to) {
  const Vec3 x = low_frame().x;
  const auto at = [&](double across, double z) {
    return Vec3(across * x + Vec3(0, y, 0) + z * Vec3::UnitZ());
  };
  return {at(from, 0), at(to, 0), at(to, 0.2), at(from, 0.2)};
}

TubeSpan span(double low_from, double low_to, double high_from, double high_to) {
  return {{Vec3::Zero(), Vec3::UnitY()},
          {{0, kLength, 0}, Vec3::UnitY()},
          {rectangle(0, low_from, low_to)},
          {rectangle(kLength, high_from, high_to)}};
}

// A block 1.2 m wide whose right side comes in by 60 mm between the beds: of a leaf of 80 mm, 20
// are left half-way, and both ends move in by the 60 that are missing.
TEST(TubeEnds, DrawnInWhereTheSideComesIn) {
  const Vec3 x = low_frame().x;
  const auto ring = [&](double y, double right) {
    Ring out;
    for (const Vec2& p : {Vec2(-0.6, -0.1), Vec2(right, -0.1), Vec2(right, 0.3), Vec2(-0.6, 0.3)})
      out.push_back(p.x() * x + Vec3(0, y, 0) + p.y() * Vec3::UnitZ());
    return out;
  };
  Solid part = skin({ring(0, 0.6), ring(kLength / 2, 0.54), ring(kLength, 0.6)});
  if (mass_properties(part).volume < 0)
    part = skin({ring(kLength, 0.6), ring(kLength / 2, 0.54), ring(0, 0.6)});
  const TubeSpan tubes = span(-0.52, 0.52, -0.52, 0.52);
  TubeEnds low, high;
  EXPECT_FALSE(draw_in_leaves(tubes, part, 0.08, 0.2, low, high));
  EXPECT_TRUE(draw_in_leaves(tubes, part, 0.08, 0.7, low, high));
  EXPECT_NEAR(low.right_m, 0.06, 1e-9);
  EXPECT_NEAR(high.right_m, 0.06, 1e-9);
  EXPECT_EQ(low.left_m, 0);
}

// From 0 .. 0.4 across to 0.6 .. 0.7 in 0.5 m: the left side leans by atan(0.6 / 0.5), the right
// one by less; floor and roof not at all. Square to itself a wall has cos of that.
TEST(TubeEnds, LeaningWallsAreThinnerByTheCosine) {
  EXPECT_NEAR(least_wall_share(span(0, 0.4, 0.6, 0.7)), std::cos(std::atan(0.6 / kLength)), 1e-12);
  EXPECT_NEAR(least_wall_share(span(0, 0.4, 0, 0.4)), 1, 1e-12);
}

// The same tube: its left side spreads 0.6 m over 0.5 of length, where a wall of seven tenths may
// spread 0.51; the lower bed is the wider one there, and only that end moves.
TEST(TubeEnds, LeaningSidesAreDrawnInWhereTheBedIsWide) {
  TubeEnds low, high;
  EXPECT_TRUE(draw_in_leaning(span(0, 0.8, 0.6, 0.8), 0.7, low, high));
  EXPECT_GT(low.left_m, 0.6 - 0.51);
  EXPECT_LT(low.left_m, 0.6 - 0.51 + 0.06);
  EXPECT_EQ(low.right_m + high.left_m + high.right_m, 0);
  EXPECT_GE(least_wall_share(span(low.left_m, 0.8, 0.6, 0.8)), 0.7);
  TubeEnds straight;
  EXPECT_FALSE(draw_in_leaning(span(0, 0.4, 0.1, 0.5), 0.7, straight, straight));
}

}  // namespace
}  // namespace skewback
