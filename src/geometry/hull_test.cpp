#include "geometry/hull.hpp"

#include <gtest/gtest.h>

namespace skewback {
namespace {

// By hand: a box of 2 x 1 x 0.5 with points inside it, and a pyramid over the unit square.
TEST(HullOf, BoxAndPyramid) {
  std::vector<Vec3> points = box({0, 0, 0}, {2, 1, 0.5}).vertices;
  points.insert(points.end(), {{1, 0.5, 0.2}, {0.3, 0.9, 0.4}});
  const Solid hull = hull_of(points);
  EXPECT_TRUE(closed(hull));
  EXPECT_EQ(hull.vertices.size(), 8u);
  EXPECT_NEAR(mass_properties(hull).volume, 1, 1e-12);
  const Solid pyramid =
      hull_of({{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {0, 1, 0}, {0.5, 0.5, 3}, {0.5, 0.5, 1}});
  EXPECT_NEAR(mass_properties(pyramid).volume, 1, 1e-12);
  EXPECT_NEAR(mass_properties(pyramid).centroid.z(), 0.75, 1e-12);
}

TEST(HullOf, FlatOrTooFew) {
  EXPECT_TRUE(hull_of({{0, 0, 0}, {1, 0, 0}, {0, 1, 0}}).faces.empty());
  EXPECT_TRUE(hull_of({{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {1, 1, 0}}).faces.empty());
}

}  // namespace
}  // namespace skewback
