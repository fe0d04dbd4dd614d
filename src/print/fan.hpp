#pragma once
// Private to print/: planes through the line in which two beds meet, turned evenly from one to the
// other; parallel planes where the beds are parallel.

#include "geometry/geometry.hpp"

namespace skewback {

/// Level t(p): 0 on `low`, 1 on `high`. With A the angle between the beds and d the signed
/// distances from them, the plane at level t is sin((1 - t) A) d_low + sin(t A) d_high = 0, which
/// has no trouble with an axis that is far away.
struct Fan {
  Plane low, high;       // normals the way the layers grow; the block lies between
  double angle_rad = 0;  // A

  [[nodiscard]] double level(const Vec3& p) const;
  [[nodiscard]] Plane surface(double level) const;  // normal the way the layers grow
  /// Way from bed to bed through p along the normals of the levels, m: A times the distance from
  /// the axis. Linear in p on a level; negative or zero at the axis and behind it.
  [[nodiscard]] double way(const Vec3& p) const;
};

[[nodiscard]] Fan fan_between(const Plane& low, const Plane& high);

}  // namespace skewback
