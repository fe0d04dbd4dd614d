#pragma once
// Where each block ends up when the arms follow their footings. Private to survey/.

#include "survey/survey.hpp"

namespace skewback {

[[nodiscard]] Rigid after(const Rigid& second, const Rigid& first);  // second(first(p))

/// Pose of every block, designed to measured. Arms and ground blocks follow their support's motion;
/// the keys move as one to the place that fits the ends of the arms best in least squares.
[[nodiscard]] std::vector<Rigid> block_poses(const Assembly& assembly,
                                             const std::vector<Rigid>& support_motion);

/// Joints whose two blocks moved differently.
[[nodiscard]] std::vector<int> parted_joints(const Assembly& assembly,
                                             const std::vector<Rigid>& poses);

/// How the faces of a joint lie after the move, against the designed pad.
[[nodiscard]] JointMisfit misfit(const Assembly& assembly, int joint,
                                 const std::vector<Rigid>& poses);

/// Moved blocks, joints and points of live load. A parted joint lies in the plane midway between
/// its two faces; its contact is where they overlap; pad and packers fill the wedge.
[[nodiscard]] Assembly rebuilt(const Assembly& assembly, const std::vector<Rigid>& poses);

}  // namespace skewback
