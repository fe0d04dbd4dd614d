// A loop round each tube, half way through the wall that is the tube's own: the leaf where it faces
// the outline, half the web where it faces another tube. Rays square to the tube's sides measure
// the wall; corners are where the sides' lines meet.
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "print/fill_parts.hpp"

namespace skewback {
namespace {

constexpr double kJog = 0.0006;       // m: steps of an outline that are not followed
constexpr double kCorner = 0.6;       // rad: a side of a tube ends where it turns by more
constexpr double kShortSide = 0.012;  // m: a chamfer no longer is part of the corner
constexpr double kSpike = 0.4;        // sine of an angle: a corner sharper is cut off
constexpr double kRaySpacing = 0.02;  // m
constexpr double kRamp = 0.3;         // steepest change of a wall's thickness along it
constexpr double kOver = 1.05;  // a bead may be this much over its greatest width: clamped later
constexpr int kOuter = -1;

struct Ray {
  Vec2 foot, out;  // on the tube; unit, into the wall
  double wall_m;   // to the outline, or half way to another tube; reach where nothing is hit
  int hit;         // kOuter, a tube, or kNothing
};
constexpr int kNothing = -2;
using Side = std::vector<Ray>;

struct Tube {
  Polygon outline;  // counter-clockwise, without jogs
  std::vector<Side> sides;
  std::vector<std::array<Vec2, 2>> ends;  // of each side
  std::vector<double> corner_wall_m;      // of the corner after each side, along its bisector
  std::vector<Vec2> corner, corner_out;
  bool smooth = false;  // one side that runs round
};

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
    const int n = std::max(1, static_cast<int>(std::ceil(d.norm() / kRaySpacing)));
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

Tube tube_of(const Polygon& hole, const SegmentIndex& walls, double reach) {
  Tube tube;
  tube.outline = simplified(hole, kJog);
  if (area(tube.outline) < 0) std::reverse(tube.outline.begin(), tube.outline.end());
  const Polygon& p = tube.outline;
  const std::vector<std::size_t> corners = corners_of(p);
  if (corners.size() < 2) {
    tube.smooth = corners.empty();
    const std::size_t from = corners.empty() ? 0 : corners.front();
    tube.sides.push_back(side_between(p, from, from + p.size(), walls, reach));
    tube.ends.push_back({p[from], p[from]});
  }
  for (std::size_t c = 0; c < corners.size() && corners.size() > 1; ++c) {
    const std::size_t from = corners[c];
    std::size_t to = corners[(c + 1) % corners.size()];
    if (to <= from) to += p.size();
    const bool chamfer =
        corners.size() > 3 && to == from + 1 && (p[to % p.size()] - p[from]).norm() < kShortSide;
    if (chamfer) continue;
    tube.sides.push_back(side_between(p, from, to, walls, reach));
    tube.ends.push_back({p[from], p[to % p.size()]});
  }
  const std::size_t n = tube.sides.size();
  for (std::size_t s = 0; s < n && !tube.smooth; ++s) {
    const Ray& a = tube.sides[s].back();
    const Ray& b = tube.sides[(s + 1) % n].front();
    const Vec2 da = left_of(a.out), db = left_of(b.out), end = tube.ends[s][1],
               next = tube.ends[(s + 1) % n][0];
    // where the two sides' lines meet: a chamfer between them is passed over; half way between
    // their ends where they run to and fro
    const double across = cross(da, db);
    const bool spike = std::abs(across) < kSpike && da.dot(db) < 0;
    const Vec2 corner = spike || std::abs(across) < 0.1
                            ? Vec2((end + next) / 2)
                            : Vec2(a.foot + cross(b.foot - a.foot, db) / across * da);
    const Vec2 out = spike ? da : Vec2((a.out + b.out).normalized());
    tube.corner.push_back(corner);
    tube.corner_out.push_back(out);
    tube.corner_wall_m.push_back(cast(corner, out, walls, reach).wall_m);
  }
  return tube;
}

/// Thickness of leaf that one tube in five is under; nothing without leaves in reach.
std::optional<double> thin_leaf(const std::vector<Tube>& tubes) {
  std::vector<double> leaves;
  for (const Tube& tube : tubes) {
    for (const Side& side : tube.sides) {
      for (const Ray& ray : side) {
        if (ray.hit == kOuter) leaves.push_back(ray.wall_m);
      }
    }
  }
  if (leaves.empty()) return std::nullopt;
  const auto at = leaves.begin() + static_cast<std::ptrdiff_t>(leaves.size() / 5);
  std::nth_element(leaves.begin(), at, leaves.end());
  return *at;
}

/// What is thicker than a bead is cut off where the tube's leaf ends elsewhere; the rest is laid as
/// solid. Says whether anything was cut off.
bool cap(Tube& tube, const FillLimits& limits) {
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
  bool cut = false;
  for (Side& side : tube.sides) {
    for (Ray& ray : side) {
      if (ray.wall_m <= most) continue;
      ray.wall_m = thickness;
      cut = true;
    }
    ramp(side, tube.smooth);
  }
  for (double& wall : tube.corner_wall_m) {
    if (wall > std::numbers::sqrt2 * most) wall = std::numbers::sqrt2 * thickness;
  }
  return cut;
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
  const Vec2 out = tube.corner_out[side], from = tube.corner[side];
  const double reach = part * tube.corner_wall_m[side];
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

/// Closed line at a part of the wall's thickness from the tube: 0 its side, 1 the end of its wall.
/// With corners out it turns where the sides' lines meet.
Polygon line_at(const Tube& tube, double part, bool corners_out = true) {
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

/// Outline of the largest piece: a line that turned back on itself in a corner is rid of its loops.
Polygon largest(const Regions& pieces) {
  const Region* best = nullptr;
  for (const Region& r : pieces) {
    if (!best || area(r.outer) > area(best->outer)) best = &r;
  }
  return best ? best->outer : Polygon{};
}

bool fits(const Polygon& loop, const SegmentIndex& walls) {
  if (loop.size() < 3 || self_crossing(loop)) return false;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    if (!walls.crossings(loop[i], loop[(i + 1) % loop.size()]).empty()) return false;
  }
  return true;
}

void report_thin(const std::vector<Tube>& tubes, const FillLimits& limits, Loops& out) {
  const double least = limits.bead_min_m * (1 - 1e-3);
  for (std::size_t t = 0; t < tubes.size(); ++t) {
    const Ray *leaf = nullptr, *web = nullptr;
    for (const Side& side : tubes[t].sides) {
      for (const Ray& ray : side) {
        if (ray.wall_m >= least || ray.hit == kNothing) continue;
        const bool outer = ray.hit == kOuter;
        if (!outer && ray.hit < static_cast<int>(t)) continue;  // said of the other tube
        const Ray*& worst = outer ? leaf : web;
        if (!worst || ray.wall_m < worst->wall_m) worst = &ray;
      }
    }
    const std::string under = ", under bead_min of " + millimetres(limits.bead_min_m) + ", ";
    if (leaf) {
      out.troubles.push_back("a leaf of " + millimetres(leaf->wall_m) + under + at(leaf->foot));
    }
    if (web) {
      out.troubles.push_back("a web of " + millimetres(2 * web->wall_m) +
                             " is laid as two beads of " + millimetres(web->wall_m) + under +
                             at(web->foot));
    }
  }
}

/// Half the tube's own wall away from it at every place, clear of the outline and of other tubes:
/// for a tube whose sides give no line that fits.
Polygon even_line(const Region& section, std::size_t tube, const Tube& sides,
                  const FillLimits& limits) {
  std::vector<double> walls;
  for (const Side& side : sides.sides) {
    for (const Ray& ray : side) walls.push_back(ray.wall_m);
  }
  const auto middle = walls.begin() + static_cast<std::ptrdiff_t>(walls.size() / 2);
  std::nth_element(walls.begin(), middle, walls.end());
  const double away = *middle / 2;
  Regions line = intersect(offset({{sides.outline, {}}}, away),
                           offset({{section.outer, {}}}, -limits.bead_min_m / 2));
  for (std::size_t h = 0; h < section.holes.size(); ++h) {
    Polygon other = section.holes[h];
    std::reverse(other.begin(), other.end());
    if (h != tube) line = subtract(line, offset({{other, {}}}, away));
  }
  return simplified(largest(line), kJog / 2);
}

std::vector<Tube> tubes_of(const Region& section, const Regions& outer, double reach) {
  SegmentIndex walls;
  for (const Region& r : outer) {
    walls.add(r.outer, kOuter);
    for (const Polygon& hole : r.holes) walls.add(hole, kOuter);
  }
  for (std::size_t h = 0; h < section.holes.size(); ++h) {
    walls.add(section.holes[h], static_cast<int>(h));
  }
  walls.build();
  std::vector<Tube> tubes;
  for (std::size_t h = 0; h < section.holes.size(); ++h) {
    tubes.push_back(tube_of(section.holes[h], walls, reach));
  }
  return tubes;
}

/// Loops along the outline where the leaf is more than one bead; gives what is left inside them.
Regions peel(const Region& section, int strips, double width, Loops& out) {
  const Regions outer{{section.outer, {}}};
  for (int j = 0; j < strips; ++j) {
    for (const Region& r : offset(outer, -(j + 0.5) * width)) {
      out.loops.push_back(simplified(r.outer, kJog / 2));
    }
  }
  return strips > 0 ? offset(outer, -strips * width) : outer;
}

}  // namespace

Loops lay_loops(const Region& section, const FillLimits& limits) {
  Loops out;
  Region clean{simplified(section.outer, kJog), {}};
  for (const Polygon& hole : section.holes) {
    Polygon h = simplified(hole, kJog);
    if (h.size() > 2 && std::abs(area(h)) > limits.bead_min_m * limits.bead_min_m) {
      clean.holes.push_back(std::move(h));
    }
  }
  const double reach = std::max(0.2, 3.5 * limits.bead_max_m);
  Regions outer{{clean.outer, {}}};
  std::vector<Tube> tubes = tubes_of(clean, outer, reach);
  const auto leaf = thin_leaf(tubes);
  if (leaf && *leaf > kOver * limits.bead_max_m && *leaf < 3.2 * limits.bead_max_m) {
    const int beads = static_cast<int>(std::ceil(*leaf / (1.2 * limits.bead_m)));
    outer = peel(clean, beads - 1, *leaf / beads, out);
    tubes = tubes_of(clean, outer, reach);
  }
  bool thick = tubes.empty();
  for (Tube& tube : tubes) thick = cap(tube, limits) || thick;
  report_thin(tubes, limits, out);

  SegmentIndex walls;
  walls.add(section.outer, kOuter);
  for (const Polygon& hole : section.holes) walls.add(hole, kOuter);
  walls.build();
  double covered = 0;
  Regions zones;
  for (std::size_t t = 0; t < tubes.size(); ++t) {
    const Tube& tube = tubes[t];
    Polygon loop = line_at(tube, 0.5), zone = line_at(tube, 1);
    for (const bool corners_out : {true, false}) {
      if (fits(loop, walls)) break;
      loop = largest(unite({{line_at(tube, 0.5, corners_out), {}}}));
    }
    if (!fits(loop, walls)) loop = even_line(clean, t, tube, limits);
    if (fits(loop, walls)) {
      covered += area(zone) - area(tube.outline);
      zones.push_back({std::move(zone), {}});
      out.loops.push_back(std::move(loop));
    } else {
      out.troubles.push_back("no loop fits round the tube " + at(centroid({tube.outline, {}})));
      zones.push_back({tube.outline, {}});
    }
  }
  double inside = area(outer);
  for (const Tube& tube : tubes) inside -= area(tube.outline);
  if (thick || inside - covered > 0.02 * inside) {
    lay_solid(zones.empty() ? outer : subtract(outer, unite(zones)), limits, out);
  }
  return out;
}

}  // namespace skewback
