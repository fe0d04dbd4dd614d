#pragma once
// Free edges drawn out: the corners between legs filled.

#include "brief/brief.hpp"

namespace skewback {

struct DrawnOut {
  double most_m = 0;          // furthest that a point of a free edge moves
  Vec2 place = Vec2::Zero();  // where it was
  int free_edge = 0;
};

/// Every point of a free edge goes this share of its distance towards the straight line between the
/// edge's ends; the outline follows. An edge that curves inward all along still does. `plan.fill`
/// is not touched.
DrawnOut draw_out(Plan& plan, double share);

}  // namespace skewback
