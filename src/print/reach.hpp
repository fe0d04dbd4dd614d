#pragma once
// Private to print/: whether the robot gets there and the table is large enough.

#include <vector>

#include "brief/brief.hpp"
#include "print/print.hpp"

namespace skewback {

struct ReachFinding {
  double wrist_min_m = 0, wrist_max_m = 0;  // top of the wrist from the centre of reach
  double table_over_m = 0;     // how far the first layer runs over the table's edge, <= 0 inside
  std::size_t worst_pose = 0;  // nearest to a limit of the reach, or farthest beyond it
};

/// The top of the wrist stands nozzle_length + wrist_length from the tip along the axis. Poses as
/// from run_poses, not empty.
[[nodiscard]] ReachFinding check_reach(const PrintRequest& cell, const std::vector<Pose>& poses);

}  // namespace skewback
