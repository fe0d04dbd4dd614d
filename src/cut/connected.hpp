#pragma once
// A surface's connected pieces: a course beside an opening has one on either side of it.

#include <vector>

#include "geometry/geometry.hpp"

namespace skewback {

/// In the order of their first faces; vertices that no face has are left out.
[[nodiscard]] std::vector<Solid> connected(const Solid& solid);

}  // namespace skewback
