#pragma once
// The convex hull of points in space (geometry/cgal_hull.cpp).

#include <vector>

#include "geometry/geometry.hpp"

namespace skewback {

/// Triangles, closed. Empty where all points lie in one plane or there are fewer than four.
[[nodiscard]] Solid hull_of(const std::vector<Vec3>& points);

}  // namespace skewback
