#pragma once
// Openings in a leg, between its springing and the crown: where its joints stand beside them.

#include <optional>

#include "cut/levels.hpp"

namespace skewback {

/// An opening in one arm, as phi. The two joints stand a little inside its tips, where the bed
/// meets the opening's wall at 50 degrees or more: the blocks beside it have no thin corner there,
/// and those over its tips prongs no longer than that takes.
struct LegGap {
  int opening = -1;  // index into plan.openings
  double low_tip_phi_m = 0, high_tip_phi_m = 0;
  double low_joint_phi_m = 0, high_joint_phi_m = 0;
};

/// Per arm, in the order of `arms`. Faults: an opening whose edge passes its weight to two
/// supports.
[[nodiscard]] Result<std::vector<std::optional<LegGap>>> leg_gaps(
    const Brief& brief, const Body& body, const std::vector<ArmField>& arms);

/// Where joints must stand along a way, by length: both, or where they are too near each other for
/// a course between them the one in the middle.
[[nodiscard]] std::vector<double> stops_at(const LegGap& gap, const Way& way, double shortest_m);

}  // namespace skewback
