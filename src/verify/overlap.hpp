#pragma once
// Private to verify/: where two flat patches overlap.

#include <Eigen/Core>
#include <vector>

namespace skewback::audit {

using Vec2 = Eigen::Vector2d;

struct Edge {
  Vec2 from, to;
};
using Patch =
    std::vector<Edge>;  // all boundary edges, of holes and of several pieces too; any order

/// Corners of the convex hull of the closure of the overlap's interior, counter-clockwise. Empty
/// where the patches only touch.
[[nodiscard]] std::vector<Vec2> overlap_hull(const Patch& a, const Patch& b);

}  // namespace skewback::audit
