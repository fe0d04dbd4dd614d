#pragma once
// Where two planes meet at a height.

#include <Eigen/LU>

#include "geometry/geometry.hpp"

namespace skewback {

/// Not finite where the planes are parallel in plan.
[[nodiscard]] inline Vec3 corner(const Plane& a, const Plane& b, double z) {
  Mat3 rows;
  rows << a.normal.transpose(), b.normal.transpose(), Vec3::UnitZ().transpose();
  return rows.partialPivLu().solve(Vec3(a.normal.dot(a.point), b.normal.dot(b.point), z));
}

}  // namespace skewback
