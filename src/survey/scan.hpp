#pragma once
// A block or the whole bridge against a scanned mesh.

#include <filesystem>

#include "assembly/assembly.hpp"
#include "base/result.hpp"

namespace skewback {

struct ScanDistances {
  std::vector<double> distance_m;  // per vertex of the scan, > 0 outside the solid
  double rms_m = 0, p95_m = 0, worst_m = 0;
  Vec3 worst_at = Vec3::Zero();  // in the block's axes
  Rigid moved;  // scan to block: best fit, iterated closest points from the marks' fit
  bool settled = false;
  std::string reason;  // why not: no vertices, the solid is not closed, it did not settle
};
/// Closest distances of the scan's vertices to the block's surface after a rigid fit by iterated
/// closest points (Besl and McKay 1992; steps square to the faces, Chen and Medioni 1992), which
/// starts at `start` (scan to block). Vertices over three deviations (1.4826 medians) off do not
/// pull once it nearly rests. The scan is to lie closer at the start than a wall of the block is
/// thick.
[[nodiscard]] ScanDistances scan_distances(const Solid& block, const TriangleMesh3& scan,
                                           const Rigid& start);

}  // namespace skewback
