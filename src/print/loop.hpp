#pragma once
// Private to print/: a closed curve of one layer, walked by arc length from its seam.

#include <vector>

#include "print/print_parts.hpp"

namespace skewback {

/// Table frame; runs on from the last point to the first. `s[i]` is the way from point 0 to point
/// i, `s.back()` the whole way round, so s has one entry more than points. Three points or more.
struct Loop {
  std::vector<SpacePoint> points;
  std::vector<double> s;
  [[nodiscard]] double length() const { return s.back(); }
};

/// Points nearer than 0.01 mm to the one before are left out. Empty if fewer than three are left.
[[nodiscard]] Loop loop_of(const SpaceStroke& stroke, const Rigid& to_table);

/// At way s, 0 to the whole way round: place, normal, height and overhang between the two points
/// beside it, share of the bead that runs there (at a point: of the bead that starts there).
[[nodiscard]] SpacePoint at(const Loop& loop, double s);

/// Way of the place on the loop nearest to p.
[[nodiscard]] double nearest_way(const Loop& loop, const Vec3& p);

/// The same curve begun at way s, which becomes its seam.
[[nodiscard]] Loop begun_at(const Loop& loop, double s);

/// The same curve and beads, run the other way from the same seam.
[[nodiscard]] Loop reversed(const Loop& loop);

/// `next` begun where it comes nearest to the seam of `below`, and run the way that stays nearer to
/// `below` over the first `window_m`.
[[nodiscard]] Loop led_on(const Loop& below, const Loop& next, double window_m);

/// Greatest distance between the two, square to the layers, over the first `window_m` from their
/// seams.
[[nodiscard]] double drift_m(const Loop& below, const Loop& next, double window_m);

}  // namespace skewback
