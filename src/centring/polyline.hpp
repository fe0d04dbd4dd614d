#pragma once
// Edges of ribs: lines y over x, x strictly ascending. Private to the folder.

#include <vector>

#include "geometry/geometry.hpp"

namespace skewback {

using Edge = std::vector<Vec2>;

/// Height over x; beyond its ends that of the end.
[[nodiscard]] double height(const Edge& edge, double x);
/// Least height between two x.
[[nodiscard]] double least(const Edge& edge, double from, double to);
/// The part between two x, ends put in; level beyond its own ends.
[[nodiscard]] Edge between(const Edge& edge, double from, double to);
/// Lower boundary, at x, of all that is within `depth` of the edge: what a lower edge may not rise
/// over if the rib is to be that deep square to its top.
[[nodiscard]] double under(const Edge& edge, double depth, double x);
/// Without the points that lie within 0.1 nm of the line between their neighbours.
[[nodiscard]] Edge without_straight_points(const Edge& edge);

}  // namespace skewback
