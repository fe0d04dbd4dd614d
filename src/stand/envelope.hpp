#pragma once
// What the load cases together ask of each course: the least and the greatest of every state of
// the pads.

#include "stand/stand.hpp"

namespace skewback {

struct Extreme {
  double least = 0, greatest = 0;
  int case_least = -1, case_greatest = -1;  // in the order of the proofs
};

/// Across all joints between one course and the next of an arm.
struct CourseEnvelope {
  int arm = -1;
  int course = 0;        // of the lower block; 0: the ground
  double phi_m = 0;      // metres along the flow, of the middle of the joints
  double depth_m = 0;    // of the deepest joint
  Extreme normal_n;      // square to the joint
  Extreme place;         // of the resultant over the depth: -1 at the intrados, 1 at the extrados
  double angle_deg = 0;  // greatest between resultant and normal
  int case_angle = -1;
};

/// From the states of the pads at load factor 1; cases without one are left out. By arm, then from
/// the springing up. Empty for an assembly whose blocks have no place in a bridge.
[[nodiscard]] std::vector<CourseEnvelope> envelopes(const Assembly& assembly,
                                                    const std::vector<CaseProof>& proofs);

}  // namespace skewback
