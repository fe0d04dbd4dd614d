#pragma once
// The depth of the blocks from the thrust: what every load case, the dead load's own safety and the
// joints' stress need, tapered evenly from springing to crown.

#include "works/net_patterns.hpp"

namespace skewback {

struct DepthWish {
  double least_m = 0;     // 0: two leaves and 60 mm between them, or 60 mm of solid
  double greatest_m = 0;  // 0: twice the greater depth of the brief
  double reserve = 1.15;  // over what the patterns need, 1 to 5: their need is a limit state
  double taper_least = 0.7, taper_greatest = 2.5;  // springing over crown
  int jobs = 0;
};

struct DepthRow {  // one shape tried
  double crown_m = 0, springing_m = 0;
  double mass_kg = 0;   // of all blocks
  double thrust_n = 0;  // on the support that has most
  // least share of these depths; none: not sought, or the full depth does not hold
  std::optional<double> patterns_need, dead_needs;
  bool enough = false;  // both, with the reserve and the dead load's safety, within these depths
  std::string governs;  // the case, "dead load"
  // where it was proved
  std::optional<double> live_factor, stress_reserve;  // limit of the joints over their peak stress
  std::string fails;  // required checks that depth could mend and that fail; "reserve"
};

struct DepthDesign {
  std::vector<DepthRow> rows;  // in order; the last is what was found
  double crown_m = 0, springing_m = 0;
  bool holds = false;           // proved: patterns, combinations, dead load's safety, joint stress
  std::string ruled_by;         // in words
  std::vector<NetPattern> net;  // at the depths found: each pattern\'s own forces of the net
};

/// Joint by joint, 0 at the springing to 1 at the crown: where between the two depths of a section
/// it stands.
[[nodiscard]] std::vector<double> rise_of_joints(const Form& form, const Assembly& assembly);

/// The assembly with every joint drawn together about its middle, from a section of the first two
/// depths to one of the second.
[[nodiscard]] Assembly redrawn(const Assembly& assembly, const std::vector<double>& rise,
                               const Section& from, double crown_m, double springing_m);

/// Shape, blocks and loads are found anew for each pair of depths until the pair settles, then
/// proved, from the least that needs no more: deepened until the proof passes or the greatest depth
/// is reached, then lessened while it does. Not the least of all pairs: of those along one taper,
/// to within a few steps of 5 mm. Faults: the first shape that has no answer.
[[nodiscard]] Result<DepthDesign> depth_from_thrust(const Brief& brief, const DepthWish& wish,
                                                    const Progress& progress);

}  // namespace skewback
