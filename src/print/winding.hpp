#pragma once
// Private to print/: layers joined into one way of the nozzle's tip, before it has poses.

#include <vector>

#include "brief/brief.hpp"
#include "print/print_parts.hpp"

namespace skewback {

/// The tip at one place, table frame; volume and height are of the piece that runs to the next.
struct WayPoint {
  Vec3 tip = Vec3::Zero();
  Vec3 normal = Vec3::UnitZ();
  double volume_m3 = 0;  // 0: travels
  double height_m = 0;   // mean over the piece
  double overhang_rad = 0;
  int layer = 0;
};

struct Winding {
  std::vector<WayPoint> points;
  double window_m = 0;  // of the joins; 0 where no layer is a single loop
  double drift_m = 0;  // greatest distance, square to the layers, between two loops that are joined
  int drift_layer = 0;  // the upper one
};

/// Successive layers of one closed stroke each wind up as a spiral with a join over a window that
/// is the same in all of them: there the path leaves loop k and rises to loop k + 1, both walked by
/// arc length from a common seam. In the window layer k + 1 is ramped up while what its own ramp
/// left of layer k is filled up, so the volumes close layer by layer. The first loop is ramped up
/// from a fifth of its height; the last window is run again on the top of the last loop, with the
/// height falling to nothing. A loop that lies more than half a bead off the one below begins a
/// spiral of its own. Strokes that cannot be joined so are reached by travelling raised by two
/// layer heights. No piece is longer than the brief's step.
[[nodiscard]] Winding wind(const PrintRequest& cell, const std::vector<SpaceLayer>& layers,
                           const Rigid& to_table);

}  // namespace skewback
