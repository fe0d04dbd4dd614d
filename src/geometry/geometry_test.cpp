#include "geometry/geometry.hpp"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>

#include "base/constants.hpp"
#include "geometry/crossings.hpp"

namespace skewback {
namespace {

Polygon square(double low, double high) {
  return {{low, low}, {high, low}, {high, high}, {low, high}};
}
Polygon reversed(Polygon p) { return {p.rbegin(), p.rend()}; }

TEST(Frame, YAxisIsTheSteepestLine) {
  const Frame f = frame_on({{1, 2, 3}, Vec3(0.6, 0, 0.8)});
  EXPECT_NEAR(f.y.dot(Vec3(-0.8, 0, 0.6)), 1, 1e-15);
  EXPECT_NEAR((f.x.cross(f.y) - f.z).norm(), 0, 1e-15);
  const Frame level = frame_on({{0, 0, 0}, Vec3::UnitZ()});
  EXPECT_NEAR((level.x - Vec3::UnitX()).norm(), 0, 1e-15);
}

// Closed forms: hollow square, b = 2 and 1: area 3, I = (16 - 1) / 12.
TEST(Region, HollowSquare) {
  const Region ring{square(-1, 1), {reversed(square(-0.5, 0.5))}};
  EXPECT_NEAR(area(ring), 3, 1e-15);
  EXPECT_NEAR(centroid(ring).norm(), 0, 1e-15);
  const auto I = second_moments(ring);
  EXPECT_NEAR(I[0], 1.25, 1e-14);
  EXPECT_NEAR(I[1], 1.25, 1e-14);
  EXPECT_NEAR(I[2], 0, 1e-14);
  EXPECT_TRUE(contains(ring, {0.75, 0}));
  EXPECT_FALSE(contains(ring, {0, 0}));
  double meshed = 0;
  const TriangleMesh2 mesh = triangulate(ring);
  for (const auto& t : mesh.triangles) {
    meshed += area(Polygon{mesh.vertices[static_cast<std::size_t>(t[0])],
                           mesh.vertices[static_cast<std::size_t>(t[1])],
                           mesh.vertices[static_cast<std::size_t>(t[2])]});
  }
  EXPECT_NEAR(meshed, 3, 1e-12);
}

TEST(Region, BooleansOnTheGrid) {
  const Regions a{{square(0, 2), {}}}, b{{square(1, 3), {}}};
  EXPECT_NEAR(area(intersect(a, b)), 1, 1e-9);
  EXPECT_NEAR(area(subtract(a, b)), 3, 1e-9);
  EXPECT_NEAR(area(unite({a[0], b[0]})), 7, 1e-9);
  EXPECT_NEAR(area(offset(a, -0.1)), 1.8 * 1.8, 1e-8);
  EXPECT_NEAR(area(strip_along({{0, 0}, {3, 4}}, 0.5)), 2.5, 1e-8);
  EXPECT_TRUE(intersect(a, {{square(2, 3), {}}}).empty())
      << "squares that touch at a corner share no area";
}

TEST(Region, HullDropsCollinearPoints) {
  EXPECT_EQ(convex_hull({{0, 0}, {1, 0}, {2, 0}, {2, 2}, {0, 2}, {1, 1}, {2, 1}}).size(), 4U);
}

// Three points along the left and the right edge of a square of side 2, upright but for rounding in
// every order: the hull keeps the corners, so its area is 4.
TEST(Region, HullKeepsCornersOfEdgesThatAreUprightToRounding) {
  std::array<double, 3> noise = {0, 1e-17, 2e-17};
  do {
    std::vector<Vec2> points;
    for (const double side : {0.0, 2.0}) {
      for (int k = 0; k < 3; ++k) {
        const double off = noise[static_cast<std::size_t>(k)] * (side > 0 ? 1e2 : 1);
        points.emplace_back(side + off, k);
      }
    }
    const Polygon hull = convex_hull(points);
    EXPECT_NEAR(area(hull), 4, 1e-12) << noise[0] << " " << noise[1] << " " << noise[2];
    EXPECT_EQ(hull.size(), 4U);
  } while (std::next_permutation(noise.begin(), noise.end()));
}

TEST(Region, OutlinesThatCannotBeTriangulatedGiveNothing) {
  EXPECT_TRUE(triangulate({{{0, 0}, {1, 1}, {1, 0}, {0, 1}}, {}}).triangles.empty());
  EXPECT_TRUE(triangulate({{{0, 0}, {1, 0}, {1, 0}, {0, 1}}, {}}).triangles.empty());
}

TEST(Region, SelfCrossing) {
  EXPECT_TRUE(self_crossing({{0, 0}, {1, 1}, {1, 0}, {0, 1}}));
  EXPECT_FALSE(self_crossing(square(0, 1)));
}

// Closed form: box inertia V (b2 + c2) / 12.
TEST(Solid, BoxMassProperties) {
  const MassProperties m = mass_properties(box({10, 20, 30}, {11, 22, 33}));
  EXPECT_NEAR(m.volume, 6, 1e-12);
  EXPECT_NEAR((m.centroid - Vec3(10.5, 21, 31.5)).norm(), 0, 1e-12);
  EXPECT_NEAR(m.inertia(0, 0), 6 * (4 + 9) / 12.0, 1e-11);
  EXPECT_NEAR(m.inertia(1, 1), 6 * (1 + 9) / 12.0, 1e-11);
  EXPECT_NEAR(m.inertia(2, 2), 6 * (1 + 4) / 12.0, 1e-11);
  EXPECT_NEAR(m.inertia(0, 1), 0, 1e-11);
}

// Closed form: prismatoid V = h (A0 + 4 Am + A1) / 6 with twisted sides left out.
TEST(Solid, SkinnedTubeIsClosedAndHasTheVolumeOfAFrustum) {
  std::vector<std::vector<Vec3>> rings(2);
  for (const Vec2& p : square(-1, 1)) rings[0].emplace_back(p.x(), p.y(), 3);
  for (const Vec2& p : square(-2, 2)) rings[1].emplace_back(p.x(), p.y(), 0);
  const Solid tube = skin(rings);
  EXPECT_TRUE(closed(tube));
  EXPECT_NEAR(mass_properties(tube).volume, 3 * (4 + 4 * 9 + 16) / 6.0, 1e-12);
}

TEST(Solid, SplitKeepsTheWholeAndSharesTheCap) {
  const Solid whole = box({0, 0, 0}, {2, 1, 1});
  const Plane plane{{1.1, 0.5, 0.5}, Vec3(1, 0.3, -0.2).normalized()};
  const auto halves = split(whole, plane);
  ASSERT_TRUE(halves.ok());
  EXPECT_TRUE(closed(halves->first));
  EXPECT_TRUE(closed(halves->second));
  const double v1 = mass_properties(halves->first).volume,
               v2 = mass_properties(halves->second).volume;
  EXPECT_NEAR(v1 + v2, 2, 1e-14);
  const Frame f = frame_on(plane);
  EXPECT_NEAR(area(faces_in_plane(halves->first, f, 1, 1e-9)),
              area(faces_in_plane(halves->second, f, -1, 1e-9)), 1e-12);
  // the cap of a 1 x 1 bar cut by this plane: area 1 / normal.x
  // to the grid: half of 10 nm along a rim of 4.2 m
  EXPECT_NEAR(area(faces_in_plane(halves->first, f, 1, 1e-9)), 1 / plane.normal.x(), 2.1e-8);
  EXPECT_FALSE(self_intersects(halves->first).value());
}

// A corner of a cube pulled through the face opposite: the faces about it cross that face.
TEST(Solid, CrossingsAreFoundWhereTheyAre) {
  Solid solid = box({0, 0, 0}, {1, 1, 1});
  EXPECT_TRUE(self_crossings(solid)->empty());
  for (Vec3& p : solid.vertices)
    if (p.x() == 1 && p.y() == 1 && p.z() == 1) p = {0.9, 0.9, -0.5};
  const auto places = self_crossings(solid);
  ASSERT_TRUE(places.ok());
  ASSERT_FALSE(places->empty());
  EXPECT_EQ(self_intersects(solid).value(), true);
  for (const Vec3& p : *places) {
    EXPECT_GT(p.x() + p.y(), 0.5);
    EXPECT_LT(p.z(), 0.7);
  }
  EXPECT_FALSE(self_crossings(Solid{solid.vertices, {solid.faces[0]}}).ok());  // open
}

TEST(Solid, ClipOfNothingIsEmpty) {
  const auto none = clip(box({0, 0, 0}, {1, 1, 1}), {{-1, 0, 0}, Vec3::UnitX()});
  ASSERT_TRUE(none.ok());
  EXPECT_TRUE(none->faces.empty());
}

TEST(Solid, UnitedVolumesAddLessWhatTheyShare) {
  const Result<Solid> cross = unite(box({0, 0, 0}, {3, 1, 1}), box({1, -1, 0.5}, {2, 2, 2}));
  ASSERT_TRUE(cross.ok());
  EXPECT_TRUE(closed(*cross));
  EXPECT_NEAR(mass_properties(*cross).volume, 3 + 4.5 - 0.5, 1e-14);
}

TEST(Solid, AThroughTubeLeavesARing) {
  const Solid bar = box({0, 0, 0}, {1, 1, 2});
  const Solid hollow = subtract(bar, box({0.25, 0.25, -1}, {0.75, 0.75, 3})).value();
  EXPECT_TRUE(closed(hollow));
  EXPECT_NEAR(mass_properties(hollow).volume, 1.5, 1e-14);
  const Regions ring = faces_in_plane(
      hollow, Frame{{0, 0, 2}, Vec3::UnitX(), Vec3::UnitY(), Vec3::UnitZ()}, 1, 1e-9);
  ASSERT_EQ(ring.size(), 1U);
  EXPECT_EQ(ring[0].holes.size(), 1U);
  EXPECT_NEAR(area(ring), 0.75, 1e-9);
  const auto halves = split(hollow, {{0, 0, 1}, Vec3(0, 0.1, 1).normalized()});
  ASSERT_TRUE(halves.ok());
  EXPECT_NEAR(mass_properties(halves->first).volume + mass_properties(halves->second).volume, 1.5,
              1e-13);
  EXPECT_TRUE(closed(halves->first));
}

TEST(Solid, OpenSurfaceIsRefused) {
  Solid open = box({0, 0, 0}, {1, 1, 1});
  open.faces.pop_back();
  EXPECT_FALSE(closed(open));
  EXPECT_FALSE(clip(open, {{0.5, 0, 0}, Vec3::UnitX()}).ok());
}

}  // namespace
}  // namespace skewback
