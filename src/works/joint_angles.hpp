#pragma once
// Private to works/: how square the joints are to what crosses them.

#include "works/works.hpp"

namespace skewback {

struct JointAngles {  // degrees, over courses that carry a tenth of the greatest force or more
  double median_deg = 0, greatest_deg = 0;
  std::string greatest_at;  // two blocks on either side of that joint
  double light_deg = 0;     // greatest over the others
};
/// Between each joint plane's normal and the force across all of it; none if no state of the pads
/// was found for this case. Needs cut and proofs.
[[nodiscard]] std::optional<JointAngles> joint_angles(const Dossier& dossier,
                                                      std::size_t load_case);

/// Dead load's resultants and the angles between joints and the force across their courses, from
/// the proofs; as it was where no case of weight alone has a state of the pads.
void judge_angles(Dossier& dossier);

}  // namespace skewback
