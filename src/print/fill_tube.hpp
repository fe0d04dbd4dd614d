#pragma once
// Private to fill*.cpp: a tube, and the wall about it measured by rays square to its sides.

#include <array>

#include "print/fill_parts.hpp"

namespace skewback::filling {

inline constexpr double kJog = 0.0006;  // m: steps of an outline that are not followed
inline constexpr double kOver = 1.05;   // a bead may be this much over its width: clamped later
inline constexpr int kOuter = -1, kNothing = -2;

struct Ray {
  Vec2 foot, out;  // on the tube; unit, into the wall
  double wall_m;   // to the outline, or half way to another tube; reach where nothing is hit
  int hit;         // kOuter, a tube, or kNothing
};
using Side = std::vector<Ray>;

struct Corner {   // between a side and the next
  Vec2 at, out;   // where the sides' lines meet; unit, between the ways out of the sides
  double wall_m;  // along `out`
};

struct Tube {
  Polygon outline;  // counter-clockwise, without jogs
  std::vector<Side> sides;
  std::vector<Corner> corners;  // one after each side; none if the tube is smooth
  bool smooth = false;          // one side that runs round
};

/// `walls` holds the outline under kOuter and the tubes under their numbers.
[[nodiscard]] Tube tube_of(const Polygon& hole, const SegmentIndex& walls, double reach_m);
/// What is thicker than a bead is cut off where the tube's leaf ends elsewhere; the rest is laid as
/// solid.
void cap(Tube& tube, const FillLimits& limits);
/// Closed line at a part of the wall's thickness from the tube: 0 its side, 1 the end of its wall.
/// With corners out it turns where the sides' lines meet.
[[nodiscard]] Polygon line_at(const Tube& tube, double part, bool corners_out = true);

}  // namespace skewback::filling
