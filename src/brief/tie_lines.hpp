#pragma once
// Where ties may run in plan.

#include <string>
#include <vector>

#include "brief/brief.hpp"

namespace skewback {

/// The footing's rectangle in plan: the springing line and footing_length beyond each end, out from
/// the line by footing_width. Counter-clockwise.
[[nodiscard]] Polygon footing_plan(const Support& support, const GroundRequest& ground);

/// Ids of the supports, other than its own two, through whose footing a rod of the tie runs (in
/// plan, whatever its level; touching an edge is not running through).
[[nodiscard]] std::vector<std::string> crossed_footings(const std::vector<Support>& supports,
                                                        const GroundRequest& ground,
                                                        const Tie& tie);

}  // namespace skewback
