#include "survey/one_off.hpp"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>

namespace skewback {
namespace {

const std::vector<Vec3> kRightLeftBack = {{0, -0.7, 0}, {0, 0.7, 0}, {0.9, 0, 0}};
const std::vector<double> kTwoMm = {0.002, 0.002, 0.002};

TEST(OneOff, TheMarkWhoseDistancesAreBothWrong) {
  const Mat3 turn = Eigen::AngleAxisd(0.4, Vec3::UnitZ()).toRotationMatrix();
  for (std::size_t bad = 0; bad < 3; ++bad) {
    std::vector<Vec3> measured;
    for (const Vec3& p : kRightLeftBack) measured.push_back(turn * p + Vec3(7, 3, 1));
    EXPECT_FALSE(one_off(kRightLeftBack, measured, kTwoMm, 3));
    measured[bad] += turn * Vec3(1, 0.3, 0);
    EXPECT_EQ(one_off(kRightLeftBack, measured, kTwoMm, 3), bad);
  }
}

// By hand: a mark that goes round another keeps its distance to that one; 8 mm are within three
// times the 2.8 mm of a distance between two marks of 2 mm.
TEST(OneOff, CannotAlwaysBeTold) {
  std::vector<Vec3> measured = kRightLeftBack;
  measured[2] = {0, -0.7 + std::sqrt(0.9 * 0.9 + 0.7 * 0.7), 0};  // round the right one
  EXPECT_FALSE(one_off(kRightLeftBack, measured, kTwoMm, 3));
  measured = kRightLeftBack;
  measured[2].x() += 0.008;
  EXPECT_FALSE(one_off(kRightLeftBack, measured, kTwoMm, 3));
  EXPECT_FALSE(one_off({{0, 0, 0}}, {{0, 0, 0}}, {0.002}, 3));
}

}  // namespace
}  // namespace skewback
