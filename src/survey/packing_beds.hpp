#pragma once
// Private to survey/: where packers go in a bed, and what they hold the bed at.

#include "survey/packing.hpp"

namespace skewback {

/// A place for a packer: on the lower or the upper edge of a bed, `at` of the way along it; the
/// middle of its plate lies `in` of the way across to the other edge.
struct PackerPlace {
  bool upper = false;
  double at = 0, in = 0;
  double along_m = 0;  // x of the joint's frame
};
/// Both edges, no further apart than `spacing`, the outermost half a plate from the corners. A
/// plate takes no more than half the bed across.
[[nodiscard]] std::vector<PackerPlace> packer_places(const JointCorners& corners,
                                                     const PackingRequest& packing);
/// At the middle of its plate, straight between the corners.
[[nodiscard]] double gap_at(const PackerPlace& place, const std::array<double, 4>& gap_m);

/// Gaps at the corners that these hold: a straight line in least squares through the thicknesses
/// along each row of plates, places without a packer counting as zero, and on in a straight line to
/// both edges; an edge without any packer lies closed itself.
[[nodiscard]] std::array<double, 4> held_open(const std::vector<PackerPlace>& places,
                                              const std::vector<double>& thickness_m);

/// Plane through gaps at a joint's corners in least squares, as a bed.
[[nodiscard]] BedError bed_through(const JointCorners& corners, const std::array<double, 4>& gap_m);

}  // namespace skewback
