#pragma once
// Faces of solids as triangles, for pictures and viewers.

#include <array>
#include <vector>

#include "geometry/geometry.hpp"

namespace skewback::deliver {

struct FlatTriangle {
  std::array<Vec3, 3> corners;  // counter-clockwise from outside
  Vec3 normal = Vec3::UnitZ();  // of the face it is part of
};

/// Every face of three or more corners cut into triangles, as indices of the solid's own vertices:
/// no point is added, and the triangles of a closed solid close.
[[nodiscard]] std::vector<std::array<int, 3>> triangle_corners(const Solid& solid);

/// Every face cut into triangles, faces of any simple outline; faces without area are left out.
[[nodiscard]] std::vector<FlatTriangle> triangles(const Solid& solid);

}  // namespace skewback::deliver
