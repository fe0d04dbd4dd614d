#pragma once
// Where a surface crosses itself (geometry/cgal.cpp).

#include "geometry/geometry.hpp"

namespace skewback {

/// The middle of the first of each two faces that cross, m; empty if none do. Faults: not closed.
[[nodiscard]] Result<std::vector<Vec3>> self_crossings(const Solid& solid);

}  // namespace skewback
