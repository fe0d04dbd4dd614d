#pragma once
// Private to print/: how the nozzle turns about its own axis along the path.

#include <Eigen/Geometry>
#include <vector>

#include "geometry/geometry.hpp"

namespace skewback {

/// x, square to axis a, carried to axis b by the least rotation that takes a to b: parallel
/// transport along the great circle between them. Where b = -a there is no least one: x stays.
[[nodiscard]] Vec3 carried(const Vec3& x, const Vec3& a, const Vec3& b);

/// Turn about axis b, right-handed, -pi to pi, from x_a carried there to x_b.
[[nodiscard]] double spin_rad(const Vec3& x_a, const Vec3& a, const Vec3& x_b, const Vec3& b);

/// The tool's x at each axis (unit) with no spin at all from one to the next, begun at `start`
/// projected square to the first axis (Bishop 1975, There is more than one way to frame a curve).
[[nodiscard]] std::vector<Vec3> least_spin(const std::vector<Vec3>& axes, const Vec3& start);

struct Following {
  std::vector<Vec3> x;
  double turns = 0;  // about the axis, between the farthest either way, against least_spin; unwound
};
/// The tool's x along the path: its direction meant over 20 mm of way, 10 mm to each side, turned
/// continuously. A corner of half a turn could be taken either way round.
[[nodiscard]] Following following(const std::vector<Vec3>& tips, const std::vector<Vec3>& axes,
                                  const Vec3& start);

/// Table from tool, z along the axis; signs such that neighbours are never more than 90 degrees
/// apart on the sphere of quaternions.
[[nodiscard]] std::vector<Eigen::Quaterniond> turns(const std::vector<Vec3>& axes,
                                                    const std::vector<Vec3>& x);

}  // namespace skewback
