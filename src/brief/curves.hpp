#pragma once
// Curves of drawings as lines of points.

#include <vector>

#include "geometry/geometry.hpp"

namespace skewback {

inline constexpr double kChord = 5e-3;  // m: no curve lies farther from its chords

/// Equal steps of angle, the fewest that keep the chords within `chord` of the arc; a full circle
/// gets at least eight. From h = r (1 - cos(step/2)). Angles in radians, lengths in one unit.
[[nodiscard]] int arc_steps(double radius, double sweep, double chord);

/// Appends the arc without its first point. `sweep` is positive counter-clockwise.
void append_arc(std::vector<Vec2>& line, const Vec2& centre, double radius, double from,
                double sweep, double chord);

[[nodiscard]] std::vector<Vec2> circle_corners(const Vec2& centre, double radius, double chord);

/// Appends the cubic from line.back() without that point, in equal steps of its parameter: the
/// fewest for which h = (step^2)/8 max|B''|, a bound on the distance from the chords, keeps within
/// `chord`; max|B''| is at an end, for B'' is linear.
void append_cubic(std::vector<Vec2>& line, const Vec2& b, const Vec2& c, const Vec2& d,
                  double chord);

}  // namespace skewback
