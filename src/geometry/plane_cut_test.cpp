#include "geometry/plane_cut.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace skewback {
namespace {

// A square tube along x, 3 m long, its walls in triangles: sections are rings with a hole in them.
Solid tube() {
  Solid s;
  for (const double x : {0.0, 3.0})
    for (const double half : {0.5, 0.3})
      for (const auto& [y, z] : {std::pair{-1, -1}, {1, -1}, {1, 1}, {-1, 1}})
        s.vertices.emplace_back(x, half * y, half * z);
  const auto quad = [&](int a, int b, int c, int d) {
    s.faces.push_back({a, b, c});
    s.faces.push_back({a, c, d});
  };
  for (int i = 0; i < 4; ++i) {
    const int j = (i + 1) % 4;
    quad(i, 8 + i, 8 + j, j);            // outside
    quad(4 + j, 12 + j, 12 + i, 4 + i);  // inside
    quad(i, j, 4 + j, 4 + i);            // end at x = 0
    quad(8 + j, 8 + i, 12 + i, 12 + j);  // end at x = 3
  }
  double sum = 0;
  for (const auto& f : s.faces)
    sum += s.vertices[std::size_t(f[0])].dot(
        s.vertices[std::size_t(f[1])].cross(s.vertices[std::size_t(f[2])]));
  if (sum < 0)
    for (auto& f : s.faces) std::swap(f[0], f[1]);
  return s;
}

TEST(SplitPlainly, AgreesWithSplitOnATubeCutAnyWay) {
  const Solid whole = tube();
  ASSERT_TRUE(closed(whole));
  const double volume = mass_properties(whole).volume;
  ASSERT_NEAR(volume, 3 * (1 - 0.36), 1e-9);
  std::mt19937 random(7);
  std::uniform_real_distribution<double> any(-1, 1);
  int cut = 0;
  for (int i = 0; i < 200; ++i) {
    const Plane plane{Vec3(1.5 + 1.7 * any(random), 0.4 * any(random), 0.4 * any(random)),
                      Vec3(any(random), any(random), any(random)).normalized()};
    const auto mine = split_plainly(whole, plane);
    if (!mine) continue;
    ++cut;
    const auto& [behind, ahead] = *mine;
    EXPECT_TRUE(closed(behind)) << i;
    EXPECT_TRUE(closed(ahead)) << i;
    const double a = behind.faces.empty() ? 0 : mass_properties(behind).volume,
                 b = ahead.faces.empty() ? 0 : mass_properties(ahead).volume;
    EXPECT_NEAR(a + b, volume, 1e-9) << i;
    const auto theirs = split(whole, plane);
    ASSERT_TRUE(theirs.ok()) << i;
    const Solid& other = theirs->first;
    EXPECT_NEAR(a, other.faces.empty() ? 0 : mass_properties(other).volume, 1e-9) << i;
    for (const Vec3& p : behind.vertices) EXPECT_LE(plane.distance(p), 1e-12) << i;
    for (const Vec3& p : ahead.vertices) EXPECT_GE(plane.distance(p), -1e-12) << i;
  }
  EXPECT_GT(cut, 190);
}

TEST(SplitPlainly, LeavesWhatIsTooCloseToOthers) {
  EXPECT_FALSE(split_plainly(tube(), {Vec3(3, 0, 0), Vec3::UnitX()}));
  EXPECT_FALSE(split_plainly(tube(), {Vec3(3 - 1e-8, 0, 0), Vec3::UnitX()}));
  Solid square = tube();
  square.faces.push_back({0, 1, 2, 3});
  EXPECT_FALSE(split_plainly(square, {Vec3(1, 0, 0), Vec3::UnitX()}));
}

TEST(SplitPlainly, ALeftSideAloneIsWholeAndTheOtherEmpty) {
  const auto parts = split_plainly(tube(), {Vec3(9, 0, 0), Vec3::UnitX()});
  ASSERT_TRUE(parts);
  EXPECT_TRUE(parts->second.faces.empty());
  EXPECT_NEAR(mass_properties(parts->first).volume, 3 * 0.64, 1e-9);
}

}  // namespace
}  // namespace skewback
