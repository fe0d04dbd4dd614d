#pragma once
// The voids of an arm: tubes side by side that follow the flow from bed to bed.

#include <vector>

#include "body/body.hpp"

namespace skewback {

using Ring = std::vector<Vec3>;       // counter-clockwise looking against the joint's normal
using TubeRings = std::vector<Ring>;  // one per tube, from left to right

/// How much further in than the leaf the tubes end.
struct TubeEnds {
  double left_m = 0, right_m = 0;
};
/// Rings of `count` tubes in a bed: leaves all round, webs between. Faults: the bed is too narrow
/// or shallow.
[[nodiscard]] Result<TubeRings> rings_in(const Section& section, const Frame& bed_frame,
                                         const Regions& bed, int count, const TubeEnds& ends = {});

/// Least distance from the rings to the rim of the bed: the thinnest leaf.
[[nodiscard]] double thinnest_leaf(const Frame& bed_frame, const Regions& bed,
                                   const TubeRings& rings);

[[nodiscard]] TubeRings carried(TubeRings rings, const Vec3& step);

/// Volume of the tubes between two beds, each measured as a solid of its own.
[[nodiscard]] double tube_volume(const TubeRings& low, const TubeRings& high);

/// Opens tubes through a solid from the bed in `low` to the bed in `high` (planes with normals up
/// the flow; the rings lie in them). Beds are made anew around the rings; the rest of the surface
/// is kept, so the result is closed if the solid was. Faults: a bed that is not one simple polygon
/// around all rings.
[[nodiscard]] Result<Solid> open_tubes(const Solid& solid, const Plane& low,
                                       const TubeRings& low_rings, const Plane& high,
                                       const TubeRings& high_rings);

}  // namespace skewback
