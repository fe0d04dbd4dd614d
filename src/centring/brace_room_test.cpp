#include "centring/brace_room.hpp"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>

#include "base/constants.hpp"

namespace skewback {
namespace {

Box cube(const Vec3& middle, double turn_rad = 0) {
  Box out{middle, Mat3::Identity(), Vec3::Constant(0.5)};
  out.axes = Eigen::AngleAxisd(turn_rad, Vec3::UnitZ()).toRotationMatrix();
  return out;
}

TEST(BraceRoom, BoxesMeetWhereTheyLieInEachOther) {
  EXPECT_TRUE(boxes_meet(cube({0, 0, 0}), cube({0.9, 0, 0})));
  EXPECT_FALSE(boxes_meet(cube({0, 0, 0}), cube({1, 0, 0}))) << "they touch";
  EXPECT_FALSE(boxes_meet(cube({0, 0, 0}), cube({0, 0, 1.1})));
  // a corner of the turned one reaches sqrt(1/2)
  const double reach = 0.5 + std::sqrt(0.5);
  EXPECT_TRUE(boxes_meet(cube({0, 0, 0}), cube({reach - 0.01, 0, 0}, kPi / 4)));
  EXPECT_FALSE(boxes_meet(cube({0, 0, 0}), cube({reach + 0.01, 0, 0}, kPi / 4)));
  EXPECT_FALSE(boxes_meet(cube({0, 0, 0}), cube({1, 1, 0}, kPi / 4))) << "beside the corner";
}

// Edges across each other: parted only along their common perpendicular, which is no face's.
TEST(BraceRoom, EdgesThatPassEachOther) {
  const auto beam = [](const Vec3& middle, const Vec3& along, const Vec3& first) {
    Box out{middle, Mat3::Identity(), {0.1, 0.1, 2}};
    out.axes.col(0) = first.normalized();
    out.axes.col(1) = along.cross(first).normalized();
    out.axes.col(2) = along;
    return out;
  };
  // on edge, both: they reach 0.1 sqrt(2) towards each other
  const double reach = 2 * 0.1 * std::sqrt(2.0);
  const Box low = beam({0, 0, 0}, Vec3::UnitX(), Vec3(0, 1, 1));
  EXPECT_TRUE(boxes_meet(low, beam({0, 0, reach - 0.01}, Vec3::UnitY(), Vec3(1, 0, 1))));
  EXPECT_FALSE(boxes_meet(low, beam({0, 0, reach + 0.01}, Vec3::UnitY(), Vec3(1, 0, 1))));
}

}  // namespace
}  // namespace skewback
