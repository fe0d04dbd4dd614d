#include "print/spin.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "base/constants.hpp"

namespace skewback {
namespace {

/// Turn of least_spin's x over a closed walk of axes, against where it began.
double holonomy(const std::vector<Vec3>& axes, const Vec3& start) {
  const std::vector<Vec3> x = least_spin(axes, start);
  const double cosine = x.front().dot(x.back());
  return std::atan2(axes.front().dot(x.front().cross(x.back())), cosine);
}

// Parallel transport round a part of the sphere turns by its area (Gauss and Bonnet): an eighth.
TEST(Spin, EighthOfTheSphereTurnsByItsArea) {
  const Vec3 z = Vec3::UnitZ(), x = Vec3::UnitX(), y = Vec3::UnitY();
  EXPECT_NEAR(holonomy({z, x, y, z}, x), kPi / 2, 1e-12);
}

// The same round a parallel at 30 degrees from the pole: 2 pi (1 - cos 30), up to the area between
// the parallel and its great-circle polygon, of order 1 / n^2.
TEST(Spin, ConeTurnsByItsSolidAngle) {
  const double lean = kPi / 6;
  std::vector<Vec3> axes;
  for (int i = 0; i <= 2000; ++i) {
    const double a = 2 * kPi * i / 2000;
    axes.emplace_back(std::sin(lean) * std::cos(a), std::sin(lean) * std::sin(a), std::cos(lean));
  }
  EXPECT_NEAR(holonomy(axes, Vec3::UnitX()), 2 * kPi * (1 - std::cos(lean)), 1e-5);
}

// Along a helix the principal normal turns about the tangent by torsion x length against a frame
// of least spin; torsion c / (r^2 + c^2) (Frenet's formulas).
TEST(Spin, HelixTurnsByItsTorsion) {
  const double r = 0.3, c = 0.12, speed = std::hypot(r, c), torsion = c / (r * r + c * c);
  const int n = 4000;
  const double end = 5;  // of the parameter, rad
  std::vector<Vec3> tangent;
  std::vector<Vec3> normal;
  for (int i = 0; i <= n; ++i) {
    const double t = end * i / n;
    tangent.emplace_back(-r / speed * std::sin(t), r / speed * std::cos(t), c / speed);
    normal.emplace_back(-std::cos(t), -std::sin(t), 0);
  }
  const std::vector<Vec3> x = least_spin(tangent, normal.front());
  const double turned =
      std::atan2(tangent.back().dot(x.back().cross(normal.back())), x.back().dot(normal.back()));
  const double expected = torsion * speed * end;
  EXPECT_NEAR(turned, std::remainder(expected, 2 * kPi), 1e-5);
}

TEST(Spin, PlaneCurveHasNone) {
  std::vector<Vec3> axes;
  for (int i = 0; i <= 50; ++i)
    axes.emplace_back(std::sin(0.5 * std::sin(i)), 0, std::cos(0.5 * std::sin(i)));
  const std::vector<Vec3> x = least_spin(axes, Vec3(0.3, 1, 0));
  const double across = x.front().y();
  for (std::size_t i = 1; i < axes.size(); ++i) {
    EXPECT_NEAR(x[i].y(), across, 1e-12);
    EXPECT_NEAR(spin_rad(x[i - 1], axes[i - 1], x[i], axes[i]), 0, 1e-12);
  }
}

TEST(Spin, FollowingUnwindsWholeTurns) {
  std::vector<Vec3> tips;
  for (int i = 0; i <= 3 * 24; ++i)
    tips.emplace_back(std::cos(2 * kPi * i / 24), std::sin(2 * kPi * i / 24), 0);
  const std::vector<Vec3> axes(tips.size(), Vec3::UnitZ());
  const Following along = following(tips, axes, Vec3::UnitX());
  EXPECT_NEAR(along.turns, 3 - 1.0 / 24, 1e-12);  // of the pieces, one fewer than the places
  for (std::size_t i = 1; i + 1 < tips.size(); ++i) {
    const Vec3 tangent(-tips[i].y(), tips[i].x(), 0);
    EXPECT_NEAR((along.x[i] - tangent).norm(), 0, 1e-9);
  }
}

// Half way round a circle and back the other way: the farthest either way counts, not the end.
TEST(Spin, TurnsAreBetweenTheFarthestEitherWay) {
  std::vector<Vec3> tips;
  for (int i = 0; i <= 36; ++i)
    tips.emplace_back(std::sin(kPi * i / 36), 1 - std::cos(kPi * i / 36), 0);
  for (int i = 1; i <= 36; ++i)  // bends to the right from heading -x on
    tips.emplace_back(-std::sin(kPi * i / 36), 3 - std::cos(kPi * i / 36), 0);
  const std::vector<Vec3> axes(tips.size(), Vec3::UnitZ());
  const Following along = following(tips, axes, Vec3::UnitX());
  EXPECT_NEAR(along.turns, 0.5 - 1.0 / 72, 1e-9);  // 35 bends of 5 degrees
}

TEST(Spin, QuaternionsKeepTheirSign) {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> turn(-0.6, 0.6);
  std::vector<Vec3> axes = {Vec3::UnitZ()}, x = {Vec3::UnitX()};
  Mat3 R = Mat3::Identity();
  for (int i = 0; i < 400; ++i) {
    R = R * Eigen::AngleAxisd(turn(random), Vec3::UnitX()) *
        Eigen::AngleAxisd(0.3 + turn(random), Vec3::UnitZ());
    axes.push_back(R.col(2));
    x.push_back(R.col(0));
  }
  const std::vector<Eigen::Quaterniond> q = turns(axes, x);
  for (std::size_t i = 0; i < q.size(); ++i) {
    EXPECT_NEAR((q[i].toRotationMatrix().col(2) - axes[i]).norm(), 0, 1e-9);
    EXPECT_NEAR((q[i].toRotationMatrix().col(0) - x[i]).norm(), 0, 1e-9);
    if (i > 0) {
      EXPECT_GE(q[i].dot(q[i - 1]), 0);
    }
  }
}

}  // namespace
}  // namespace skewback
