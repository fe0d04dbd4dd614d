#pragma once
// Private to print/: how square the layers lie to what passes through a block.

#include <string>
#include <vector>

#include "stand/stand.hpp"

namespace skewback {

/// Force that block b of each joint feels, N, per case: of the pads, or of view 1 without them.
struct CaseJointForces {
  std::string case_id;
  std::vector<Vec3> on_b;  // per joint
};
[[nodiscard]] std::vector<CaseJointForces> joint_forces(const Assembly& assembly,
                                                        const std::vector<CaseProof>& proofs);

struct NormalToThrust {
  double dead_rad = 0, greatest_rad = 0;
  std::string greatest_case;
};
/// Thrust in the middle of a block, half of what enters by the joints `low` and half of what leaves
/// by `high` (none: all of what enters), against a normal.
[[nodiscard]] NormalToThrust normal_to_thrust(const Assembly& assembly, int block,
                                              const std::vector<int>& low,
                                              const std::vector<int>& high, const Vec3& normal,
                                              const std::vector<CaseJointForces>& forces);

}  // namespace skewback
