#pragma once
// Private to motion/: the flat faces of a block, as it sees them itself.

#include <vector>

#include "geometry/geometry.hpp"

namespace skewback::motion {

struct Facet {
  Frame frame;     // world at the start; z outward
  Regions region;  // in its x and y
  Vec3 low, high;  // box, world at the start
};

/// One for each plane and way it faces, in the order of the solid's faces; slivers under 1 mm2 left
/// out.
[[nodiscard]] std::vector<Facet> facets_of(const Solid& solid);

}  // namespace skewback::motion
