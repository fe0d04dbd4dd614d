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

// A board 25 by 100 mm on the +y face of posts of 100 mm, 0.5 m up at 30 degrees: it is there from
// y 50 to 75 mm. A third post between is clear of it with its axis under y 0 or over 125 mm, and
// where its head is under the board: 0.5 m over the ground less 50 mm / cos 30 and half a post
// times tan 30, 86.6 mm in all.
TEST(BraceRoom, ABoardRunsThroughAPostBetweenItsOwn) {
  const double rise = std::tan(kPi / 6);
  const Stick board{"a/b", "brace", {-1, 0, 0.5 - rise}, {1, 0, 0.5 + rise}, 0.025,
                    0.1,   0.112,   Vec3(0, 0.0625, 0)};
  const auto post = [](double x, double y, double tall) {
    return Stick{"p", "post", {x, y, -1}, {x, y, tall}, 0.1, 0.1, 0, Vec3::Zero()};
  };
  EXPECT_FALSE(runs_through(board, post(-1, 0, 2))) << "it lies on its own";
  EXPECT_FALSE(runs_through(board, post(1, 0, 2)));
  EXPECT_FALSE(runs_through(board, post(0, 0, 2))) << "in line with its own";
  EXPECT_TRUE(runs_through(board, post(0, 0.02, 2)));
  EXPECT_TRUE(runs_through(board, post(0, 0.12, 2)));
  EXPECT_FALSE(runs_through(board, post(0, 0.126, 2)));
  EXPECT_TRUE(runs_through(board, post(0, 0.06, 0.5 - 0.0866 + 0.005)));
  EXPECT_FALSE(runs_through(board, post(0, 0.06, 0.5 - 0.0866 - 0.005)));
}

}  // namespace
}  // namespace skewback
