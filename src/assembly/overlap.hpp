#pragma once
// Private to assembly/: blocks that lie in one another.

#include <optional>

#include "assembly/assembly.hpp"

namespace skewback {

struct Overlap {
  int inner = -1, outer = -1;  // a point of the first lies in the second
  Vec3 at = Vec3::Zero();
  double depth_m = 0;  // from there to the nearest face of the second
};

/// The deepest overlap of each pair, in the order of the blocks, deeper than `tolerance_m` and than
/// the gap tolerance of the pair's joints. Looks at corners, middles of edges and of faces, and the
/// centroid of each block, by the winding number of the other's surface (Van Oosterom and Strackee
/// 1983): an overlap that keeps clear of all of these is not seen.
[[nodiscard]] std::vector<Overlap> find_overlaps(const Assembly& assembly, double tolerance_m);

}  // namespace skewback
