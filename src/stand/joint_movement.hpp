#pragma once
// What a mechanism does at each joint.

#include "stand/forces.hpp"

namespace skewback {

enum class Movement { kHinge, kSlide, kPart };

struct JointMovement {
  int joint = -1;
  Movement movement = Movement::kPart;
  Vec3 hinge = Vec3::Zero();   // mean of the corners that stay in touch
  Vec3 middle = Vec3::Zero();  // of all corners
  double turn = 0;             // of b against a, rad per unit of the mechanism
};

/// Joints that move, in the order of the assembly. Joints of full contact only: `present` and props
/// do not count.
[[nodiscard]] std::vector<JointMovement> joint_movements(const Assembly& assembly,
                                                         const Mechanism& mechanism);

/// Whether sliding takes part: then view 1, which lets sliding joints lift, may say too much.
[[nodiscard]] bool slides(const Assembly& assembly, const Mechanism& mechanism);

}  // namespace skewback
