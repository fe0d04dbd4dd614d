#pragma once
// Private to fill*.cpp: loops, and what lies near them. In a namespace of their own, for the words
// are used elsewhere.

#include <algorithm>
#include <cmath>
#include <optional>

#include "geometry/simplify.hpp"
#include "print/print_parts.hpp"

namespace skewback::filling {

// ---- plane helpers (fill_index.cpp) ------------------------------------------------------------

[[nodiscard]] inline double cross(const Vec2& a, const Vec2& b) {
  return a.x() * b.y() - a.y() * b.x();
}
[[nodiscard]] inline Vec2 left_of(const Vec2& d) { return {-d.y(), d.x()}; }
[[nodiscard]] inline double turn(const Vec2& in, const Vec2& out) {
  return std::atan2(cross(in, out), in.dot(out));  // positive to the left
}
/// Pieces no longer than `step` that a length is cut into; a hair over is no reason for one more.
[[nodiscard]] inline int steps_in(double length_m, double step_m) {
  return std::max(1, static_cast<int>(std::ceil(length_m / step_m - 1e-6)));
}
[[nodiscard]] double perimeter(const Polygon& outline);
[[nodiscard]] std::string millimetres(double length_m);  // "45 mm"
[[nodiscard]] std::string at(const Vec2& p);             // "at (0.123, -0.045)"

struct Hit {
  double distance_m = 0;
  int owner = 0;
  int segment = 0;   // of its owner, from 0
  double along = 0;  // 0 to 1 on that segment
};

/// Segments of closed outlines on a grid. Owners are the caller's numbers.
class SegmentIndex {
 public:
  void add(const Polygon& outline, int owner);
  void build();
  /// First segment that a ray from p meets, not nearer than 1 um, within `reach`.
  [[nodiscard]] std::optional<Hit> first_hit(const Vec2& p, const Vec2& direction,
                                             double reach_m) const;
  /// All crossings of the open segment ab.
  [[nodiscard]] std::vector<Hit> crossings(const Vec2& a, const Vec2& b) const;
  /// Distance to the nearest segment of `owner`s under 0 (walls), at most `reach`.
  [[nodiscard]] double clearance(const Vec2& p, double reach_m) const;

 private:
  struct Segment {
    Vec2 a, b;
    int owner, number;
  };
  template <class Visit>
  void visit(const Vec2& low, const Vec2& high, const Visit& each) const;
  std::vector<Segment> segments_;
  std::vector<int> first_, items_;  // cell to segments
  Vec2 low_ = Vec2::Zero();
  int nx_ = 0, ny_ = 0;
};

// ---- loops that cover the section (fill_loops.cpp, fill_solid.cpp) -----------------------------

struct Loops {
  std::vector<Polygon> loops;  // counter-clockwise, corners sharp; apart from one another
  std::vector<std::string> troubles;
};
[[nodiscard]] Loops lay_loops(const Region& section, const FillLimits& limits);
/// Closed loops one inside the other over what has no tubes.
void lay_solid(const Regions& solid, const FillLimits& limits, Loops& out);

// ---- loops joined to paths (fill_join.cpp) -----------------------------------------------------

struct Paths {
  std::vector<Polygon> paths;  // closed, counter-clockwise, corners sharp
  int loose = 0;               // loops that nothing could be joined to
  double overlap_m2 = 0;       // of feet of webs with the leaf, as the limits ask for
};
[[nodiscard]] Paths join_loops(const Region& section, const std::vector<Polygon>& loops,
                               const FillLimits& limits);

// ---- path to beads (fill_bead.cpp, fill_shares.cpp)
// -------------------------------------------------------------

struct Bend {
  Vec2 at = Vec2::Zero();  // the corner that is rounded
  double radius_m = 0;
  bool fold = false;  // back beside itself
};
struct Moves {           // of a path, for the sake of its turns: none further than this
  double dropped_m = 0;  // by corners taken out
  double retreat_m = 0;  // by corners moved apart along the path
};
/// Corners rounded to the turn radius where there is room; of those that leave a turn less than
/// eight tenths of it first some are taken out, then others moved apart. Bends of more than 0.3 rad
/// are listed.
[[nodiscard]] Polygon rounded(const Polygon& path, double radius_m, const Moves& moves,
                              std::vector<Bend>& bends);
/// Share of each segment of each path, before limits: what of the section is nearest to it, over
/// its length. Paths are cut into segments no longer than `piece_m` first. No share is over
/// `most_m`, with which the bead stands out of the outline by FillLimits::proud_m: what is over
/// goes to the nearest segments that have room, or is left out.
struct Piece {
  Vec2 p;
  double length_m = 0, share_m = 0;
  double most_m = 1;
};
using Pieces = std::vector<Piece>;  // closed
[[nodiscard]] std::vector<Pieces> shares(const Region& section, const std::vector<Polygon>& paths,
                                         const FillLimits& limits);

}  // namespace skewback::filling
