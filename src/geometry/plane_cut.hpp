#pragma once
// A closed surface of triangles divided by a plane, by plain arithmetic: many times quicker than
// split, where nothing is close.

#include <optional>
#include <utility>

#include "geometry/geometry.hpp"

namespace skewback {

/// As split: what is behind the plane and what is ahead of it, each closed; new vertices lie on the
/// plane to rounding. None, where it is not for plain arithmetic: a face that is no triangle, a
/// vertex within a micrometre of the plane, a section that is not made of rings. Whether the
/// surface crosses itself is not looked at.
[[nodiscard]] std::optional<std::pair<Solid, Solid>> split_plainly(const Solid& solid,
                                                                   const Plane& plane);

}  // namespace skewback
