#include "print/reach.hpp"

#include <algorithm>
#include <limits>

#include "print/bricks.hpp"
#include "print/poses.hpp"

namespace skewback {

ReachFinding check_reach(const PrintRequest& cell, const std::vector<Pose>& poses) {
  constexpr double kFar = std::numeric_limits<double>::max();
  ReachFinding out{kFar, 0, -kFar, 0};
  const double arm = cell.nozzle_length_m + cell.wrist_length_m;
  double least_room = kFar;
  for (std::size_t i = 0; i < poses.size(); ++i) {
    const double far = (poses[i].tip + arm * axis_of(poses[i]) - cell.robot).norm();
    out.wrist_min_m = std::min(out.wrist_min_m, far);
    out.wrist_max_m = std::max(out.wrist_max_m, far);
    const double room = std::min(far - cell.reach_min_m, cell.reach_max_m - far);
    if (room < least_room) least_room = room, out.worst_pose = i;
    if (poses[i].layer != poses.front().layer || poses[i].share_m <= 0) continue;
    const Brick bead = brick_of(poses, i);
    for (const Vec3& side : {bead.half[1], Vec3(-bead.half[1])}) {
      for (const Vec3& end : {poses[i].tip, poses[i + 1].tip}) {
        const Vec3 p = (end + side).cwiseAbs();
        out.table_over_m = std::max(
            {out.table_over_m, p.x() - cell.table_length_m / 2, p.y() - cell.table_width_m / 2});
      }
    }
  }
  return out;
}

}  // namespace skewback
