#pragma once
// The voids of an arm: tubes side by side that follow the flow from bed to bed.

#include <vector>

#include "body/body.hpp"
#include "cut/arm_planes.hpp"

namespace skewback {

using Ring = std::vector<Vec3>;       // counter-clockwise looking against the joint's normal
using TubeRings = std::vector<Ring>;  // one per tube, from left to right

/// Rings of `count` tubes in a bed: leaves all round, webs between. Faults: the bed is too narrow
/// or shallow.
[[nodiscard]] Result<TubeRings> rings_in(const Section& section, const Frame& bed_frame,
                                         const Regions& bed, int count);

/// Least distance from the rings to the rim of the bed: the thinnest leaf.
[[nodiscard]] double thinnest_leaf(const Frame& bed_frame, const Regions& bed,
                                   const TubeRings& rings);

/// All tubes of the piece between two or more joints in order up the flow, as one solid of several
/// parts. `below` and `above` carry the ends past the first and last ring, along the planes'
/// normals.
[[nodiscard]] Solid tubes_through(const std::vector<const TubeRings*>& rings, const Vec3& below,
                                  const Vec3& above);

}  // namespace skewback
