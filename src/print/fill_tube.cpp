#include "print/fill_tube.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace skewback::filling {
namespace {

constexpr double kCorner = 0.6;       // rad: a side of a tube ends where it turns by more
constexpr double kShortSide = 0.012;  // m: a chamfer no longer is part of the corner
constexpr double kSpike = 0.4;        // sine of an angle: a corner sharper is cut off
constexpr double kRaySpacing = 0.02;  // m
constexpr double kRamp = 0.3;         // steepest change of a wall's thickness along it

Ray cast(const Vec2& foot, const Vec2& out, const SegmentIndex& walls, double reach) {
  const auto hit = walls.first_hit(foot, out, reach);
  if (!hit) return {foot, out, reach, kNothing};
  const bool outer = hit->owner == kOuter;
  return {foot, out, outer ? hit->distance_m : hit->distance_m / 2, hit->owner};
}

/// Wall thickness may not jump along a side: the thinner place rules its surroundings.
void ramp(Side& side, bool runs_round) {
  const std::size_t n = side.size();
  for (std::size_t k = 0; k + 1 < (runs_round ? 2 * n : n); ++k) {
    Ray& a = side[k % n];
    Ray& b = side[(k + 1) % n];
    b.wall_m = std::min(b.wall_m, a.wall_m + kRamp * (b.foot - a.foot).norm());
  }
  for (std::size_t k = (runs_round ? 2 * n : n); k-- > 1;) {
    Ray& a = side[k % n];
    Ray& b = side[(k - 1) % n];
    b.wall_m = std::min(b.wall_m, a.wall_m + kRamp * (b.foot - a.foot).norm());
  }
}

Side side_between(const Polygon& p, std::size_t first, std::size_t last, const SegmentIndex& walls,
                  double reach) {
  Side side;
  for (std::size_t i = first; i < last; ++i) {
    const Vec2 a = p[i % p.size()], d = p[(i + 1) % p.size()] - a;
    const Vec2 out = -left_of(d.normalized());
    const int n = steps_in(d.norm(), kRaySpacing);
    for (int k = 0; k < n; ++k) side.push_back(cast(a + (k + 0.5) / n * d, out, walls, reach));
  }
  return side;
}

std::vector<std::size_t> corners_of(const Polygon& p) {
  std::vector<std::size_t> corners;
  for (std::size_t i = 0; i < p.size(); ++i) {
    const Vec2 in = p[i] - p[(i + p.size() - 1) % p.size()], out = p[(i + 1) % p.size()] - p[i];
    if (std::abs(turn(in, out)) > kCorner) corners.push_back(i);
  }
  return corners;
}

/// Sides from corner to corner, and the ends of each.
std::vector<std::array<Vec2, 2>> divide(Tube& tube, const SegmentIndex& walls, double reach) {
  const Polygon& p = tube.outline;
  const std::vector<std::size_t> corners = corners_of(p);
  std::vector<std::array<Vec2, 2>> ends;
  if (corners.size() < 2) {
    tube.smooth = corners.empty();
    const std::size_t from = corners.empty() ? 0 : corners.front();
    tube.sides.push_back(side_between(p, from, from + p.size(), walls, reach));
    return {{p[from], p[from]}};
  }
  for (std::size_t c = 0; c < corners.size(); ++c) {
    const std::size_t from = corners[c];
    std::size_t to = corners[(c + 1) % corners.size()];
    if (to <= from) to += p.size();
    const bool chamfer =
        corners.size() > 3 && to == from + 1 && (p[to % p.size()] - p[from]).norm() < kShortSide;
    if (chamfer) continue;
    tube.sides.push_back(side_between(p, from, to, walls, reach));
    ends.push_back({p[from], p[to % p.size()]});
  }
  return ends;
}

Corner corner_between(const Ray& a, const Ray& b, const Vec2& end, const Vec2& next) {
  // where the two sides' lines meet: a chamfer between them is passed over; half way between their
  // ends where they run to and fro
  const Vec2 da = left_of(a.out), db = left_of(b.out);
  const double across = cross(da, db);
  const bool spike = std::abs(across) < kSpike && da.dot(db) < 0;
  const Vec2 at = spike || std::abs(across) < 0.1
                      ? Vec2((end + next) / 2)
                      : Vec2(a.foot + cross(b.foot - a.foot, db) / across * da);
  return {at, spike ? da : Vec2((a.out + b.out).normalized()), 0};
}

/// The line through the outer end of a side's points, over its last 5 cm or so.
Vec2 end_direction(const Polygon& points, bool at_back) {
  const std::size_t n = points.size();
  const Vec2 tip = at_back ? points.back() : points.front();
  Vec2 from = tip;
  for (std::size_t k = 1; k < n && (from - tip).norm() < 0.05; ++k) {
    from = at_back ? points[n - 1 - k] : points[k];
  }
  return at_back ? Vec2(tip - from) : Vec2(from - tip);
}

/// Joins the points of one side to those of the next over the corner between them.
void turn_corner(const Polygon& a, const Polygon& b, const Tube& tube, std::size_t side,
                 double part, std::size_t& keep_a, std::size_t& skip_b, Polygon& corner) {
  const Side& next = tube.sides[(side + 1) % tube.sides.size()];
  Vec2 da = end_direction(a, true), db = end_direction(b, false);
  if (a.size() < 2) da = left_of(tube.sides[side].back().out);
  if (b.size() < 2) db = left_of(next.front().out);
  da.normalize(), db.normalize();
  const double across = cross(da, db);
  const bool spike = std::abs(across) < kSpike && da.dot(db) < 0;
  if (std::abs(across) < 0.15 && !spike) return;
  const double s = spike ? 0 : cross(b.front() - a.back(), db) / across;
  const Vec2 meet = a.back() + s * da;
  const Vec2 out = tube.corners[side].out, from = tube.corners[side].at;
  const double reach = part * tube.corners[side].wall_m;
  if (spike || (across > 0 && s > 0 && (meet - from).dot(out) > 1.05 * reach)) {
    // too far out: cut the corner off square to its bisector
    const double ta = (reach - (a.back() - from).dot(out)) / std::max(0.05, da.dot(out));
    const double tb = (reach - (b.front() - from).dot(out)) / std::max(0.05, -db.dot(out));
    if (ta > 0) corner.push_back(a.back() + ta * da);
    if (tb > 0) corner.push_back(b.front() - tb * db);
    return;
  }
  while (keep_a > 1 && (a[keep_a - 1] - meet).dot(da) > 0) --keep_a;
  while (skip_b + 1 < b.size() && (b[skip_b] - meet).dot(db) < 0) ++skip_b;
  corner.push_back(meet);
}

}  // namespace

Tube tube_of(const Polygon& hole, const SegmentIndex& walls, double reach_m) {
  Tube tube;
  tube.outline = simplified(hole, kJog);
  if (area(tube.outline) < 0) std::reverse(tube.outline.begin(), tube.outline.end());
  const auto ends = divide(tube, walls, reach_m);
  const std::size_t n = tube.sides.size();
  for (std::size_t s = 0; s < n && !tube.smooth; ++s) {
    const Side& next = tube.sides[(s + 1) % n];
    Corner corner =
        corner_between(tube.sides[s].back(), next.front(), ends[s][1], ends[(s + 1) % n][0]);
    corner.wall_m = cast(corner.at, corner.out, walls, reach_m).wall_m;
    tube.corners.push_back(corner);
  }
  return tube;
}

void cap(Tube& tube, const FillLimits& limits) {
  std::vector<double> leaves;
  for (const Side& side : tube.sides) {
    for (const Ray& ray : side) {
      if (ray.hit == kOuter && ray.wall_m <= kOver * limits.bead_max_m)
        leaves.push_back(ray.wall_m);
    }
  }
  double thickness = limits.bead_m;
  if (!leaves.empty()) {
    const auto at = leaves.begin() + static_cast<std::ptrdiff_t>(leaves.size() / 2);
    std::nth_element(leaves.begin(), at, leaves.end());
    thickness = *at;
  }
  // what would be left over must be worth two beads
  const double most = std::max(kOver * limits.bead_max_m, thickness + 1.8 * limits.bead_min_m);
  for (Side& side : tube.sides) {
    for (Ray& ray : side) {
      if (ray.wall_m > most) ray.wall_m = thickness;
    }
    ramp(side, tube.smooth);
  }
  for (Corner& corner : tube.corners) {
    if (corner.wall_m > std::numbers::sqrt2 * most) corner.wall_m = std::numbers::sqrt2 * thickness;
  }
}

Polygon line_at(const Tube& tube, double part, bool corners_out) {
  const std::size_t n = tube.sides.size();
  std::vector<Polygon> lines(n);
  for (std::size_t s = 0; s < n; ++s) {
    for (const Ray& ray : tube.sides[s]) {
      lines[s].push_back(ray.foot + part * ray.wall_m * ray.out);
    }
  }
  std::vector<std::size_t> keep(n), skip(n, 0);
  std::vector<Polygon> corners(n);
  for (std::size_t s = 0; s < n; ++s) keep[s] = lines[s].size();
  for (std::size_t s = 0; s < n && !tube.smooth && corners_out; ++s) {
    turn_corner(lines[s], lines[(s + 1) % n], tube, s, part, keep[s], skip[(s + 1) % n],
                corners[s]);
  }
  Polygon out;
  for (std::size_t s = 0; s < n; ++s) {
    for (std::size_t k = skip[s]; k < keep[s]; ++k) out.push_back(lines[s][k]);
    for (const Vec2& p : corners[s]) out.push_back(p);
  }
  return simplified(out, kJog / 2);
}

}  // namespace skewback::filling
