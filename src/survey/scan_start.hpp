#pragma once
// Where a scan that lies anywhere may be laid on its block to begin with. Private to survey/.

#include "geometry/near_surface.hpp"
#include "survey/fit.hpp"

namespace skewback {

/// The block without its hollows, as far as a start needs it.
struct ScanBody {
  Solid hull;
  MassProperties mass;           // of the hull
  Mat3 axes = Mat3::Identity();  // principal, columns, right-handed
  double size_m = 0;             // cube root of the volume
};
/// None: flat, or fewer than four points.
[[nodiscard]] std::optional<ScanBody> scan_body(const std::vector<Vec3>& points);

/// Scan to block.
struct ScanStart {
  Rigid X;
  double off_m = 0;  // root mean square distance from the block's hull after a rough fit
};
/// As it lies, `also`, and hull on hull by principal axes: all 24 ways of laying a box, each fitted
/// to the hull. Nearest first; ways that end in the same place once.
[[nodiscard]] std::vector<ScanStart> scan_starts(const ScanBody& block, const ScanBody& scan,
                                                 const std::vector<Rigid>& also);

}  // namespace skewback
