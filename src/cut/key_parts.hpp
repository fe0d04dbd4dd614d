#pragma once
// A key of more than three sides that is too heavy for one block, divided by upright walls.

#include "cut/arm_planes.hpp"
#include "cut/parts.hpp"

namespace skewback {

/// Plan of what lies ahead of all arms' last joints at height `z`, its corners in order; empty if
/// those joints do not enclose a convex polygon with a side for each arm.
[[nodiscard]] Polygon key_outline(const std::vector<ArmCuts>& arms, double z);

/// `count` parts of equal area in plan between parallel walls. Of 36 bearings that is taken whose
/// walls keep furthest from the corners of the key, where the joints of two arms meet (of its
/// convex hull in plan, where the sides make no outline). Faults: a wall that cannot be cut.
[[nodiscard]] Result<Parts> divide_key(const Course& key, const std::vector<ArmCuts>& arms,
                                       double pad_m, int count);

}  // namespace skewback
