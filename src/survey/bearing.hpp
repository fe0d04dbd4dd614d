#pragma once
// Where a joint bears: on what is close, and on its packers. Private to survey/.

#include "survey/bed_surface.hpp"
#include "survey/packing.hpp"

namespace skewback {

/// Parts of the drawn joint's plane, in its frame, where the gap beyond the pad is no more than
/// slack; beyond the contact's outline too.
[[nodiscard]] Regions close_parts(const Joint& joint, const Warp& gap, double slack_m);
/// Plates of the packers of that joint, inward from the edge they lie at.
[[nodiscard]] Regions plates(const JointCorners& corners, int joint,
                             const std::vector<Packer>& packers, const PackingRequest& packing);

}  // namespace skewback
