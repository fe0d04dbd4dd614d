#pragma once
// Plane lines with fewer points, and how far a point is from a segment.

#include "geometry/geometry.hpp"

namespace skewback {

/// Where along ab, 0 to 1, the point nearest to p lies; 0 where a is b.
[[nodiscard]] double share_along(const Vec2& p, const Vec2& a, const Vec2& b);
/// From p to the nearest point of the segment ab.
[[nodiscard]] double off_segment(const Vec2& p, const Vec2& a, const Vec2& b);

/// The ends, and between two points that are kept what lies farther than `tolerance_m` from their
/// chord (D. Douglas and T. Peucker 1973, from memory): no point of the line is farther than that
/// from the line that comes back.
[[nodiscard]] std::vector<Vec2> simplified_line(const std::vector<Vec2>& line, double tolerance_m);
/// The same of a closed outline; the point farthest from its middle and the one farthest from that
/// stay. One that is thinner than the tolerance comes back as those two.
[[nodiscard]] Polygon simplified(const Polygon& outline, double tolerance_m);

}  // namespace skewback
