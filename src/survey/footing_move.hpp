#pragma once
// How a footing lies off the drawing.

#include "brief/brief.hpp"

namespace skewback {

/// At the middle of the springing line; left looking outward; turned counter-clockwise from above.
struct FootingMove {
  double outward_m = 0, left_m = 0, up_m = 0, turn_rad = 0, tilt_rad = 0;
};
[[nodiscard]] FootingMove footing_move(const Support& support, const Rigid& drawn_to_found);

}  // namespace skewback
