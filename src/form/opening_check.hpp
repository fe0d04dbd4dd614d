#pragma once
// Which openings a plan may have: refused with the place and the least change that mends it.

#include "brief/brief.hpp"

namespace skewback {

/// Convex openings, two leaves (at least 0.3 m) from every other edge: one round the meeting at the
/// most, and one in each leg. Empty if they can be had.
[[nodiscard]] Faults check_openings(const Plan& plan, const Section& section);

/// `faults` of a mesh that folds. Where an opening in a leg makes it, the opening is named, with
/// the least move towards the middle of its leg that mends it, where one does. `plan`: as meshed.
[[nodiscard]] Faults with_openings_moved(const Plan& plan, const Section& section,
                                         double mesh_size_m, Faults faults);

}  // namespace skewback
