#include "print/fill.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <limits>

#include "print/fill_parts.hpp"

namespace skewback {
namespace {

using namespace filling;  // NOLINT: this folder's own

using Strokes = std::vector<Stroke>;

double length_m(const Stroke& stroke, std::size_t i) {
  return (stroke.points[(i + 1) % stroke.points.size()].p - stroke.points[i].p).norm();
}

double kept_to(const PathPoint& point, const FillLimits& limits, double factor) {
  const double most = std::clamp(point.most_m, limits.bead_min_m, limits.bead_max_m);
  return std::clamp(factor * point.share_m, limits.bead_min_m, most);
}

/// What all strokes lay when shares are multiplied and kept within the limits.
double laid(const Strokes& strokes, const FillLimits& limits, double factor) {
  double sum = 0;
  for (const Stroke& stroke : strokes) {
    for (std::size_t i = 0; i < stroke.points.size(); ++i) {
      sum += length_m(stroke, i) * kept_to(stroke.points[i], limits, factor);
    }
  }
  return sum;
}

/// Factor on the shares by which they come to the area; shares are kept within the limits.
double closing_factor(const Strokes& strokes, const FillLimits& limits, double area) {
  double low = 0.5, high = 2;
  for (int k = 0; k < 60; ++k) {
    const double middle = (low + high) / 2;
    (laid(strokes, limits, middle) < area ? low : high) = middle;
  }
  return (low + high) / 2;
}

/// The point nearest to `start`, or that of least x, then y, becomes the first.
void start_at(Pieces& pieces, const std::optional<Vec2>& start) {
  const std::size_t n = pieces.size();
  std::size_t best = 0;
  double least = std::numeric_limits<double>::max();
  Vec2 foot = Vec2::Zero();
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 p = pieces[i].p, d = pieces[(i + 1) % n].p - p;
    Vec2 near = p;
    if (start) near += std::clamp((*start - p).dot(d) / d.squaredNorm(), 0.0, 1.0) * d;
    const double far = start ? (near - *start).norm() : p.x() + 1e-3 * p.y();
    if (far < least - 1e-9) least = far, best = i, foot = near;
  }
  Piece& cut = pieces[best];
  const double along = (foot - cut.p).norm();
  if (along > 1e-4 && cut.length_m - along > 1e-4) {
    const Piece rest{foot, cut.length_m - along, cut.share_m, cut.most_m};
    cut.length_m = along;
    pieces.insert(pieces.begin() + static_cast<std::ptrdiff_t>(++best), rest);
  } else if (along > 1e-4) {
    best = (best + 1) % n;
  }
  std::rotate(pieces.begin(), pieces.begin() + static_cast<std::ptrdiff_t>(best), pieces.end());
}

/// Pieces in a line that stand for much the same width become one.
Stroke merged(const Pieces& pieces, double step_m) {
  constexpr double kOff = 1e-4, kWidth = 7e-4;  // m
  Stroke stroke;
  stroke.closed = true;
  const std::size_t n = pieces.size();
  for (std::size_t i = 0; i < n;) {
    double length = pieces[i].length_m, area = length * pieces[i].share_m;
    double least = pieces[i].share_m, most = least, kept = pieces[i].most_m;
    std::size_t j = i + 1;
    for (; j < n; ++j) {
      const Vec2 a = pieces[i].p, chord = pieces[(j + 1) % n].p - a;
      least = std::min(least, pieces[j].share_m), most = std::max(most, pieces[j].share_m);
      if (chord.norm() > step_m || most - least > 2 * kWidth) break;
      bool off = false;
      for (std::size_t k = i + 1; k <= j && !off; ++k) {
        off = std::abs(cross(chord, pieces[k].p - a)) > kOff * chord.norm();
      }
      if (off) break;
      kept = std::min(kept, pieces[j].most_m);
      length += pieces[j].length_m;
      area += pieces[j].length_m * pieces[j].share_m;
    }
    const double chord = (pieces[j % n].p - pieces[i].p).norm();
    stroke.points.push_back({pieces[i].p, area / std::max(chord, 1e-9), kept});
    i = j;
  }
  return stroke;
}

/// The bend that falls shortest of what its bead needs: the turn radius, or half of its own width
/// where that is less, as when it folds back beside itself.
void check_bends(const std::vector<Bend>& bends, double turn_radius_m, Fill& fill) {
  fill.turn_radius_min_m = fill.tightest_m = fill.tightest_needs_m = turn_radius_m;
  double worst = 1;
  for (const Bend& bend : bends) {
    fill.turn_radius_min_m = std::min(fill.turn_radius_min_m, bend.radius_m);
    if (bend.radius_m >= turn_radius_m * worst) continue;
    const PathPoint* near = nullptr;
    for (const Stroke& stroke : fill.strokes) {
      for (const PathPoint& p : stroke.points) {
        if (!near || (p.p - bend.at).norm() < (near->p - bend.at).norm()) near = &p;
      }
    }
    const double needs = std::min(turn_radius_m, near->share_m / 2);
    if (bend.radius_m >= worst * needs) continue;
    worst = bend.radius_m / needs;
    fill.tightest_m = bend.radius_m;
    fill.tightest_needs_m = needs;
    fill.tightest_at = bend.at;
  }
}

void check_crossing(const std::vector<Stroke>& strokes, Fill& fill) {
  SegmentIndex paths;
  std::vector<Polygon> outlines;
  for (std::size_t s = 0; s < strokes.size(); ++s) {
    Polygon outline;
    for (const PathPoint& point : strokes[s].points) outline.push_back(point.p);
    paths.add(outline, static_cast<int>(s));
    outlines.push_back(std::move(outline));
  }
  paths.build();
  for (std::size_t s = 0; s < outlines.size(); ++s) {
    const int n = static_cast<int>(outlines[s].size());
    for (int i = 0; i < n; ++i) {
      const Vec2 a = outlines[s][static_cast<std::size_t>(i)],
                 b = outlines[s][static_cast<std::size_t>((i + 1) % n)];
      for (const Hit& hit : paths.crossings(a, b)) {
        const bool same = hit.owner == static_cast<int>(s);
        const int apart = std::abs(hit.segment - i);
        if (same && (apart <= 1 || apart == n - 1)) continue;
        fill.crossing = "the path crosses itself " + at(a);
        fill.troubles.push_back(fill.crossing);
        return;
      }
    }
  }
}

void close_volume(const FillLimits& limits, Fill& fill) {
  fill.laid_m2 = laid(fill.strokes, limits, 1);
  const double factor = closing_factor(fill.strokes, limits, fill.section_m2);
  const double part = fill.laid_m2 / fill.section_m2;
  if (part < 0.99 || part > 1.01) {
    char text[96];
    std::snprintf(text, sizeof text,
                  "the beads come to %.1f %% of the section before they are scaled", 100 * part);
    fill.troubles.emplace_back(text);
  }
  fill.share_min_m = limits.bead_max_m;
  for (Stroke& stroke : fill.strokes) {
    for (PathPoint& point : stroke.points) {
      point.share_m = kept_to(point, limits, factor);
      fill.share_min_m = std::min(fill.share_min_m, point.share_m);
      fill.share_max_m = std::max(fill.share_max_m, point.share_m);
    }
  }
}

/// How far half shares reach out of the outline; holes are not looked at.
void measure_outside(const Region& section, const FillLimits& limits, Fill& fill) {
  constexpr double kStep = 0.004;  // m
  const double reach = 1.5 * limits.bead_max_m;
  SegmentIndex outline;
  outline.add(section.outer, -1);
  outline.build();
  const Region whole{section.outer, {}};
  for (const Stroke& stroke : fill.strokes) {
    for (std::size_t i = 0; i < stroke.points.size(); ++i) {
      const Vec2 a = stroke.points[i].p, d = stroke.points[(i + 1) % stroke.points.size()].p - a;
      const int n = steps_in(d.norm(), kStep);
      for (int k = 0; k <= n; ++k) {
        const Vec2 p = a + static_cast<double>(k) / n * d;
        const double off = outline.clearance(p, reach);
        const double out = stroke.points[i].share_m / 2 + (contains(whole, p) ? -off : off);
        if (out > fill.outside_m) fill.outside_m = out, fill.outside_at = p;
      }
    }
  }
}

double least_radius(const FillLimits& limits) {
  return limits.turn_radius_least_m > 0 ? limits.turn_radius_least_m : limits.turn_radius_m;
}

/// The path rounded, moved no more than it takes to leave all its turns the least radius.
Polygon eased(const Polygon& path, const FillLimits& limits, std::vector<Bend>& bends) {
  Polygon out;
  std::vector<Bend> best;
  double widest = -1;
  constexpr std::array<Moves, 5> kMoves = {
      {{0, 0}, {0.005, 0}, {0.010, 0}, {0.015, 0}, {0, 0.004}}};
  for (const Moves& moves : kMoves) {
    std::vector<Bend> found;
    Polygon line = rounded(path, limits.turn_radius_m, moves, found);
    if ((moves.dropped_m > 0 || moves.retreat_m > 0) && self_crossing(line)) continue;
    double tightest = least_radius(limits);
    for (const Bend& bend : found)
      if (!bend.fold) tightest = std::min(tightest, bend.radius_m);
    if (tightest <= widest) continue;
    widest = tightest, out = std::move(line), best = std::move(found);
    if (tightest >= least_radius(limits)) break;
  }
  bends.insert(bends.end(), best.begin(), best.end());
  return out;
}

/// Paths through the section, corners rounded.
std::vector<Polygon> paths_through(const Region& section, const FillLimits& limits, Fill& fill,
                                   std::vector<Bend>& bends) {
  Loops loops = lay_loops(section, limits);
  fill.troubles = std::move(loops.troubles);
  const Paths joined = join_loops(section, loops.loops, limits);
  fill.overlap_m2 = joined.overlap_m2;
  std::vector<Polygon> paths;
  for (const Polygon& path : joined.paths) {
    paths.push_back(eased(path, limits, bends));
    if (paths.back().size() < 3) paths.pop_back();
  }
  if (paths.empty()) fill.troubles.emplace_back("no path fits the section");
  if (paths.size() > 1) {
    fill.troubles.push_back(std::to_string(paths.size()) +
                            " paths that cannot be joined; the last " + at(paths.back().front()));
  }
  return paths;
}

}  // namespace

Fill fill_section(const Region& section, const FillLimits& limits,
                  const std::optional<Vec2>& start) {
  Fill fill;
  fill.section_m2 = section.outer.size() < 3 ? 0 : area(section);
  if (fill.section_m2 <= 0) return fill;
  std::vector<Bend> bends;
  const std::vector<Polygon> paths = paths_through(section, limits, fill, bends);
  if (paths.empty()) return fill;
  for (Pieces& pieces : shares(section, paths, limits)) {
    start_at(pieces, start);
    fill.strokes.push_back(merged(pieces, limits.step_m));
  }
  close_volume(limits, fill);
  check_bends(bends, least_radius(limits), fill);
  check_crossing(fill.strokes, fill);
  measure_outside(section, limits, fill);
  const Cover cover = measure_cover(section, fill.strokes);
  fill.gap_m2 = cover.gap_m2;
  fill.overfill_m2 = std::max(cover.twice_m2 - fill.overlap_m2, 0.0) + cover.outside_m2;
  return fill;
}

}  // namespace skewback
