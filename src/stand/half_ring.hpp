#pragma once

#include "geometry/geometry.hpp"

namespace skewback {

/// Part of a ring where t . (1, x, y) >= 0. Edges along the cut may overlap; integrals stay exact.
[[nodiscard]] Polygon kept(const Polygon& ring, const Vec3& t);

}  // namespace skewback
