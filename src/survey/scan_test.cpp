#include "survey/scan.hpp"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <random>

#include "base/constants.hpp"
#include "geometry/near_surface.hpp"

namespace skewback {
namespace {

const Vec3 kLow(0, 0, 0), kHigh(1.2, 0.8, 0.5);

/// Vertices every 20 mm over the six faces of the box.
std::vector<Vec3> over_the_box() {
  std::vector<Vec3> out;
  constexpr double kStep = 0.02;
  for (int axis = 0; axis < 3; ++axis) {
    const int u = (axis + 1) % 3, v = (axis + 2) % 3;
    for (const double level : {kLow[axis], kHigh[axis]}) {
      for (double a = kStep / 2; a < kHigh[u]; a += kStep) {
        for (double b = kStep / 2; b < kHigh[v]; b += kStep) {
          Vec3 p;
          p[axis] = level;
          p[u] = a;
          p[v] = b;
          out.push_back(p);
        }
      }
    }
  }
  return out;
}

Rigid known_move() {
  return {Eigen::AngleAxisd(0.03, Vec3(1, 2, -1).normalized()).toRotationMatrix(),
          Vec3(0.02, -0.015, 0.01)};
}

// Signed distances of a box in closed form.
TEST(NearSurface, DistancesToABox) {
  const Result<NearSurface> near = NearSurface::of(box(kLow, kHigh));
  ASSERT_TRUE(near.ok());
  EXPECT_NEAR(near->distance({0.6, 0.4, 0.7}), 0.2, 1e-12);
  EXPECT_NEAR(near->distance({0.6, 0.4, 0.3}), -0.2, 1e-12);
  EXPECT_NEAR(near->distance({-0.3, -0.4, 0.2}), 0.5, 1e-12);
  EXPECT_NEAR(near->distance({1.5, 1.2, 1.7}), 1.3, 1e-12);  // corner: 0.3, 0.4, 1.2
  const OnSurface on = near->nearest({0.6, 0.4, 0.7});
  EXPECT_NEAR((on.at - Vec3(0.6, 0.4, 0.5)).norm(), 0, 1e-12);
  EXPECT_NEAR((on.normal - Vec3::UnitZ()).norm(), 0, 1e-12);
}

TEST(NearSurface, RefusesAnOpenSurface) {
  Solid open = box(kLow, kHigh);
  open.faces.pop_back();
  EXPECT_FALSE(NearSurface::of(open).ok());
  EXPECT_FALSE(NearSurface::of({}).ok());
}

TEST(ScanDistances, FindsAKnownMovement) {
  const Rigid X = known_move();
  TriangleMesh3 scan;
  for (const Vec3& p : over_the_box()) scan.vertices.push_back(X(p));
  const ScanDistances found = scan_distances(box(kLow, kHigh), scan, {});
  EXPECT_TRUE(found.settled) << found.reason;
  for (const Vec3& p : {kLow, kHigh}) EXPECT_NEAR((found.moved(X(p)) - p).norm(), 0, 1e-8);
  EXPECT_NEAR(found.rms_m, 0, 1e-8);
}

// Points of a noisy scan pass from face to face beside the edges; the fit comes to rest all the
// same, and what is left is the noise. By hand, sigma 0.4 mm: 2,000 points on the faces square to x
// tell a shift to 0.009 mm, 4,800 on top and bottom with arms of 0.35 m a turn to 17e-6, 0.012 mm
// at a corner; both over three axes 0.025 mm, and three times that.
TEST(ScanDistances, ANoisyScanComesToRest) {
  constexpr double kSigma = 4e-4;
  std::mt19937 random(7);
  const auto even = [&] { return (static_cast<double>(random()) + 0.5) / 4294967296.0; };
  const auto normal = [&] {  // Box and Muller
    const double u = even(), v = even();
    return std::sqrt(-2 * std::log(u)) * std::cos(2 * kPi * v);
  };
  const auto noise = [&]() -> Vec3 {
    const double x = normal(), y = normal();
    return kSigma * Vec3(x, y, normal());
  };
  const Rigid X = known_move();
  TriangleMesh3 scan;
  for (const Vec3& p : over_the_box()) scan.vertices.push_back(X(p) + noise());
  for (int i = 0; i < 400; ++i)  // along an edge, where normals change
    scan.vertices.push_back(X(Vec3(kHigh.x() * even(), kHigh.y(), kHigh.z())) + noise());
  const ScanDistances found = scan_distances(box(kLow, kHigh), scan, {});
  EXPECT_TRUE(found.settled) << found.reason;
  for (const Vec3& p : {kLow, kHigh}) EXPECT_NEAR((found.moved(X(p)) - p).norm(), 0, 7.5e-5);
  EXPECT_NEAR(found.rms_m / kSigma, 1, 0.05);
}

// A bump of 6 mm on the top, radius 0.15 m, and a hollow of 4 mm in the bottom. The rest is sound,
// so the fit is that of the rest and the bump is found as high as it is.
TEST(ScanDistances, FindsABumpAndAHollow) {
  const Rigid X = known_move();
  TriangleMesh3 scan;
  const Vec2 at(0.41, 0.31);
  const auto bell = [&](const Vec3& p) {
    const double r = (p.head<2>() - at).norm() / 0.15;
    return r < 1 ? 0.5 * (1 + std::cos(std::acos(-1.0) * r)) : 0;
  };
  std::vector<double> expected;
  for (const Vec3& p : over_the_box()) {
    double out = 0;
    if (p.z() == kHigh.z()) out = 0.006 * bell(p);
    if (p.z() == kLow.z()) out = -0.004 * bell(p);
    expected.push_back(out);
    scan.vertices.push_back(X(p + Vec3(0, 0, p.z() > 0 ? out : -out)));
  }
  const ScanDistances found = scan_distances(box(kLow, kHigh), scan, {});
  EXPECT_TRUE(found.settled) << found.reason;
  ASSERT_EQ(found.distance_m.size(), expected.size());
  for (std::size_t i = 0; i < expected.size(); ++i)
    EXPECT_NEAR(found.distance_m[i], expected[i], 1e-6) << i;
  EXPECT_NEAR(found.worst_m, 0.006, 1e-6);
  EXPECT_NEAR((found.worst_at - Vec3(at.x(), at.y(), 0.506)).norm(), 0, 0.01);
  EXPECT_LT(found.p95_m, 0.006);
}

// One face alone holds three ways of moving: the others stay where the start puts them.
TEST(ScanDistances, OneFaceAlone) {
  TriangleMesh3 scan;
  for (const Vec3& p : over_the_box())
    if (p.z() == kHigh.z()) scan.vertices.push_back(p + Vec3(0, 0, 0.01));
  const ScanDistances found = scan_distances(box(kLow, kHigh), scan, {});
  EXPECT_TRUE(found.settled) << found.reason;
  EXPECT_NEAR(found.moved.t.z(), -0.01, 1e-7);
  EXPECT_NEAR(found.moved.t.head<2>().norm(), 0, 1e-6);
}

TEST(ScanDistances, SaysWhatIsMissing) {
  EXPECT_EQ(scan_distances(box(kLow, kHigh), {}, {}).reason, "the scan has no vertices");
  TriangleMesh3 scan;
  scan.vertices = {Vec3::Zero()};
  EXPECT_NE(scan_distances({}, scan, {}).reason.find("open"), std::string::npos);
}

}  // namespace
}  // namespace skewback
