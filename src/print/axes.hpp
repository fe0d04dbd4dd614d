#pragma once
// Private to print/: the nozzle's axis along the way, and the places that say nothing new.

#include <vector>

#include "print/winding.hpp"

namespace skewback {

struct Axes {
  std::vector<Vec3> axis;   // unit, one for each place
  double tilt_max_rad = 0;  // from upright, before it is held to the most allowed
  int tilt_layer = 0;
};
/// Normals meant over 0.1 m of way, 0.05 m to each side (less at the ends of the way), then leant
/// back to `tilt_max_rad` from upright where they lean more.
[[nodiscard]] Axes smooth_axes(const std::vector<WayPoint>& way, double tilt_max_rad);

/// Leaves out places within 0.2 mm and 0.2 degrees of the straight way between those kept, where
/// height, section and overhang stay within 1 % (0.01 rad) and no piece gets longer than `step_m`;
/// pieces under 1.5 mm even where height and section change. Volumes are added, heights meant.
/// Gives back which places are kept. Two places or more.
std::vector<std::size_t> thin(std::vector<WayPoint>& way, const std::vector<Vec3>& axis,
                              double step_m);

}  // namespace skewback
