#pragma once
// Private to print/: from layers in space to the timed poses of the nozzle.

#include <vector>

#include "brief/brief.hpp"
#include "print/print.hpp"
#include "print/print_parts.hpp"

namespace skewback {

struct PoseRun {
  std::vector<Pose> poses;
  // Of each layer handed in. A join of two layers counts with the upper one, the last window with
  // the last: the first layer has half a window less of its volume here, the last half a window
  // more. layer_path_m: laying only; layer_time_s: travel and waiting after it as well.
  std::vector<double> layer_time_s, layer_path_m, layer_laid_m3;
  double tilt_max_rad = 0;  // that the layers ask for, before it is held to the cell's limit
  double tilt_rate_max_rad_s = 0, spin_rate_max_rad_s = 0;
  double speed_min_m_s = 0, speed_max_m_s = 0;  // while laying
  int strokes = 0;                              // beads laid without a stop
  double slowed_s = 0;                          // time lost to limits on turning
  double waited_s = 0;                          // for layers under the least layer time
  double flow_min_m3_s = 0, flow_max_m3_s = 0;  // while laying
  double turns = 0;    // of a nozzle that follows the path, about its axis, from end to end
  double drift_m = 0;  // greatest distance, square to the layers, between two joined loops
  int tilt_layer = 0, speed_min_layer = 0, drift_layer = 0;  // where the greatest, least is
};

/// Layers in the block's world frame, tips on the top of each. Layers of one closed stroke wind up
/// as a spiral (winding.hpp); the volume laid is that of the layers, sum of share x height x length
/// over their closed curves, however they are joined. The bead between two poses has the share and
/// height of the first; no share is over bead_max. Axes: axes.hpp; turn about the axis: spin.hpp;
/// speeds: pace.hpp. Where a layer has to be waited for, the tip is lifted clear by two layer
/// heights at its end and comes back. The last pose has speed and share 0. No layer with a path: no
/// poses.
[[nodiscard]] PoseRun run_poses(const PrintRequest& cell, const std::vector<SpaceLayer>& layers,
                                const Rigid& to_table);

/// Tool z in the table frame.
[[nodiscard]] Vec3 axis_of(const Pose& pose);

}  // namespace skewback
