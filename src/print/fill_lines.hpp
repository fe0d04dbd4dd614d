#pragma once
// Private to fill*.cpp: loops by their length, where they run side by side, where they are cut.

#include "print/fill_parts.hpp"

namespace skewback::filling {

/// A closed line by its length.
struct Line {
  Polygon points;
  std::vector<double> start;  // of each segment
  double length = 0;

  [[nodiscard]] double wrap(double s) const {
    s = std::fmod(s, length);
    return s < 0 ? s + length : s;
  }
  [[nodiscard]] std::size_t segment(double s) const {
    return static_cast<std::size_t>(std::upper_bound(start.begin(), start.end(), s) -
                                    start.begin()) -
           1;
  }
  [[nodiscard]] Vec2 direction(std::size_t k) const {
    return (points[(k + 1) % points.size()] - points[k]).normalized();
  }
  [[nodiscard]] Vec2 at(double s) const {
    s = wrap(s);
    const std::size_t k = segment(s);
    return points[k] + (s - start[k]) * direction(k);
  }
  [[nodiscard]] double place(const Hit& hit) const {
    const auto k = static_cast<std::size_t>(hit.segment);
    return start[k] + hit.along * (points[(k + 1) % points.size()] - points[k]).norm();
  }
  [[nodiscard]] double turn_at(std::size_t k) const {
    return turn(direction((k + points.size() - 1) % points.size()), direction(k));
  }
};

[[nodiscard]] Line line_of(const Polygon& loop);

// ---- stretches side by side (fill_runs.cpp) ----------------------------------------------------

/// A stretch along which loop a faces loop b. Ways point into the stretch at `from`; the other end
/// has both reversed.
struct Run {
  int a, b;
  double a_from, a_to, b_from, b_to;  // not wrapped: a_to > a_from
  double gap_m = 0;                   // between the two
  bool closed = false;                // all of a
};

/// `index` holds the loops under their numbers, walls under -1.
[[nodiscard]] std::vector<Run> runs_between(const std::vector<Line>& lines,
                                            const SegmentIndex& index, const FillLimits& limits);

// ---- loops cut and joined (fill_join.cpp, fill_trace.cpp) --------------------------------------

/// Two loops to be cut: from `outer` on by `inner`, the ways being +1 along the loop or -1.
struct Joining {
  int a, b;
  double a_outer, a_inner, b_outer, b_inner;
  double cost = 0;
  double overlap_m2 = 0;  // of its round end with the wall beyond
};

struct Cut {
  double low, high;  // low in [0, length)
  int joint;
  bool outer_low;  // the outer link is at the low end
};

[[nodiscard]] Cut cut_of(const Line& line, double outer, double inner, int joint);
/// What is left of the loops, linked at the joints: closed paths, counter-clockwise. `cuts` for
/// each loop.
[[nodiscard]] std::vector<Polygon> trace(const std::vector<Line>& lines,
                                         const std::vector<std::vector<Cut>>& cuts,
                                         const std::vector<Joining>& joints);

}  // namespace skewback::filling
