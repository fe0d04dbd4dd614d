#pragma once
// Questions about closed outlines that the plan's checks ask.

#include <optional>
#include <utility>

#include "geometry/geometry.hpp"

namespace skewback {

struct NearestOnOutline {
  double distance_m = 0;
  Vec2 point = Vec2::Zero();
  double along_m = 0;  // from the first corner
};
[[nodiscard]] NearestOnOutline nearest_on_outline(const Polygon& outline, const Vec2& p);

[[nodiscard]] double distance_to_segment(const Vec2& p, const Vec2& a, const Vec2& b);

/// Indices of the first two sides (side i runs from corner i to the next) that cross or touch away
/// from a shared corner, or that fold back onto each other.
[[nodiscard]] std::optional<std::pair<std::size_t, std::size_t>> crossing_sides(
    const Polygon& outline);

/// Even-odd rule; on the boundary: either.
[[nodiscard]] bool inside(const Polygon& outline, const Vec2& p);

/// Distance from each corner to the first, and the whole length last.
[[nodiscard]] std::vector<double> distances_along(const Polygon& outline);

}  // namespace skewback
