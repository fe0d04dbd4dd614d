#include "centring/nest_shape.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

namespace skewback::nest {
namespace {

double cross(const Vec2& a, const Vec2& b) { return a.x() * b.y() - a.y() * b.x(); }
ClipperLib::cInt cross(const IntPoint& a, const IntPoint& b) { return a.X * b.Y - a.Y * b.X; }

const Polygon& largest_outer(const Regions& regions) {
  return std::ranges::max_element(regions, {}, [](const Region& r) { return area(r.outer); })
      ->outer;
}

/// One corner less: those from `first`, `count` of them, give way to `instead`.
struct Step {
  std::size_t first = 0, count = 1;
  std::optional<Vec2> instead;
  double out_m = 0;
};

std::optional<Step> bridge(const Polygon& ring, std::size_t i) {
  const std::size_t n = ring.size();
  const Vec2 &a = ring[(i + n - 1) % n], &b = ring[i], &c = ring[(i + 1) % n];
  const double turn = cross(b - a, c - b);
  if (turn > 0) return std::nullopt;
  return Step{i, 1, std::nullopt, -turn / std::max((c - a).norm(), 1e-12)};
}

std::optional<Step> sharpen(const Polygon& ring, std::size_t i) {
  const std::size_t n = ring.size();
  const Vec2 &a = ring[(i + n - 1) % n], &b = ring[i], &c = ring[(i + 1) % n],
             &d = ring[(i + 2) % n];
  const Vec2 in = b - a, out = d - c;
  const double turn = cross(in, out);
  if (cross(in, c - b) <= 0 || cross(c - b, out) <= 0 || turn <= 0) return std::nullopt;
  const Vec2 corner = b + in * (cross(c - b, out) / turn);
  const double rise = cross(c - b, corner - b) / (c - b).norm();
  return Step{i, 2, corner, std::abs(rise)};
}

bool in_triangle(const Vec2& p, const Vec2& a, const Vec2& b, const Vec2& c) {
  const double u = cross(b - a, p - a), v = cross(c - b, p - b), w = cross(a - c, p - c);
  return (u >= 0 && v >= 0 && w >= 0) || (u <= 0 && v <= 0 && w <= 0);
}

/// Whether the ground that the step takes in is free of the ring's other corners.
bool is_free(const Polygon& ring, const Step& step) {
  const std::size_t n = ring.size();
  const std::size_t last = (step.first + step.count - 1) % n;
  const Vec2 a = step.instead ? ring[step.first] : ring[(step.first + n - 1) % n];
  const Vec2 b = step.instead ? *step.instead : ring[step.first];
  const Vec2 c = step.instead ? ring[last] : ring[(step.first + 1) % n];
  for (std::size_t k = 0; k < n; ++k) {
    const Vec2& p = ring[k];
    if (p == a || p == b || p == c) continue;
    if (in_triangle(p, a, b, c)) return false;
  }
  return true;
}

void take(Polygon& ring, const Step& step) {
  if (step.instead) ring[step.first] = *step.instead;
  const std::size_t gone = step.instead ? (step.first + 1) % ring.size() : step.first;
  ring.erase(ring.begin() + static_cast<std::ptrdiff_t>(gone));
}

bool is_convex_at(const Polygon& ring, const std::vector<int>& loop, std::size_t i) {
  const std::size_t n = loop.size();
  const auto at = [&](std::size_t k) { return ring[static_cast<std::size_t>(loop[k % n])]; };
  return cross(at(i) - at(i + n - 1), at(i + 1) - at(i)) >= 0;
}

/// The two loops as one if they share an edge and stay convex at its ends.
std::optional<std::vector<int>> merged(const Polygon& ring, const std::vector<int>& a,
                                       const std::vector<int>& b) {
  for (std::size_t i = 0; i < a.size(); ++i) {
    const int from = a[i], to = a[(i + 1) % a.size()];
    const auto j = static_cast<std::size_t>(std::ranges::find(b, to) - b.begin());
    if (j == b.size() || b[(j + 1) % b.size()] != from) continue;
    std::vector<int> loop;
    for (std::size_t k = 1; k <= a.size(); ++k) loop.push_back(a[(i + k) % a.size()]);
    for (std::size_t k = 2; k < b.size(); ++k) loop.push_back(b[(j + k) % b.size()]);
    if (is_convex_at(ring, loop, 0) && is_convex_at(ring, loop, a.size() - 1)) return loop;
  }
  return std::nullopt;
}

}  // namespace

Path to_path(const Polygon& ring) {
  Path path;
  for (const Vec2& p : ring)
    path.emplace_back(std::llround(p.x() * kGrid), std::llround(p.y() * kGrid));
  return path;
}

Turn after(const Turn& second, const Turn& first) {
  const int quarters = second.quarters + (second.flipped ? 4 - first.quarters : first.quarters);
  return {quarters % 4, second.flipped != first.flipped};
}

Turn undo(const Turn& turn) { return turn.flipped ? turn : Turn{(4 - turn.quarters) % 4, false}; }

IntPoint turned(const IntPoint& p, const Turn& turn) {
  const ClipperLib::cInt x = turn.flipped ? -p.X : p.X, y = p.Y;
  switch (turn.quarters) {
    case 1:
      return {-y, x};
    case 2:
      return {-x, -y};
    case 3:
      return {y, -x};
    default:
      return {x, y};
  }
}

Path turned(const Path& path, const Turn& turn) {
  Path out;
  for (const IntPoint& p : path) out.push_back(turned(p, turn));
  if (turn.flipped) std::ranges::reverse(out);
  return out;
}

Paths turned(const Paths& paths, const Turn& turn) {
  Paths out;
  for (const Path& path : paths) out.push_back(turned(path, turn));
  return out;
}

Box bounds(const Path& path) {
  Box box{path.front(), path.front()};
  for (const IntPoint& p : path) {
    box.low = {std::min(box.low.X, p.X), std::min(box.low.Y, p.Y)};
    box.high = {std::max(box.high.X, p.X), std::max(box.high.Y, p.Y)};
  }
  return box;
}

Polygon simplified_outward(Polygon ring, std::size_t most, double coarse_m) {
  while (ring.size() > 3) {
    std::vector<Step> steps;
    for (std::size_t i = 0; i < ring.size(); ++i) {
      for (const auto& step : {bridge(ring, i), sharpen(ring, i)})
        if (step && (step->out_m <= coarse_m || ring.size() > most)) steps.push_back(*step);
    }
    std::ranges::stable_sort(steps, {}, &Step::out_m);
    const auto best =
        std::ranges::find_if(steps, [&](const Step& step) { return is_free(ring, step); });
    if (best == steps.end()) break;
    take(ring, *best);
  }
  return ring;
}

std::vector<Polygon> convex_pieces(const Polygon& ring) {
  const TriangleMesh2 mesh = triangulate({ring, {}});
  double covered = 0;
  std::map<std::pair<double, double>, int> index;
  for (std::size_t i = 0; i < ring.size(); ++i)
    index[{ring[i].x(), ring[i].y()}] = static_cast<int>(i);
  std::vector<std::vector<int>> loops;
  for (const auto& triangle : mesh.triangles) {
    Polygon corners;
    loops.emplace_back();
    for (const int v : triangle) {
      corners.push_back(mesh.vertices[static_cast<std::size_t>(v)]);
      const auto found = index.find({corners.back().x(), corners.back().y()});
      if (found == index.end()) return {convex_hull(ring)};
      loops.back().push_back(found->second);
    }
    covered += area(corners);
  }
  if (loops.empty() || std::abs(covered - area(ring)) > 1e-9 * area(ring))
    return {convex_hull(ring)};
  for (std::size_t i = 0; i < loops.size(); ++i) {
    for (std::size_t j = 0; j < loops.size(); ++j) {
      if (i == j) continue;
      const auto loop = merged(ring, loops[i], loops[j]);
      if (!loop) continue;
      loops[i] = *loop;
      loops.erase(loops.begin() + static_cast<std::ptrdiff_t>(j));
      i = static_cast<std::size_t>(-1);  // from the start
      break;
    }
  }
  std::vector<Polygon> pieces;
  for (const auto& loop : loops) {
    pieces.emplace_back();
    for (const int v : loop) pieces.back().push_back(ring[static_cast<std::size_t>(v)]);
  }
  return pieces;
}

Path convex_sum(const Path& a, const Path& b) {
  const auto lowest = [](const Path& p) {
    return static_cast<std::size_t>(std::ranges::min_element(p,
                                                             [](const auto& u, const auto& v) {
                                                               return u.Y < v.Y ||
                                                                      (u.Y == v.Y && u.X < v.X);
                                                             }) -
                                    p.begin());
  };
  const std::size_t na = a.size(), nb = b.size(), a0 = lowest(a), b0 = lowest(b);
  const auto edge = [](const Path& p, std::size_t i) {
    const IntPoint &u = p[i % p.size()], &v = p[(i + 1) % p.size()];
    return IntPoint(v.X - u.X, v.Y - u.Y);
  };
  Path sum;
  IntPoint at(a[a0].X + b[b0].X, a[a0].Y + b[b0].Y);
  std::size_t i = 0, j = 0;
  while (i < na || j < nb) {
    sum.push_back(at);
    const bool first = j >= nb || (i < na && cross(edge(a, a0 + i), edge(b, b0 + j)) >= 0);
    const IntPoint step = first ? edge(a, a0 + i++) : edge(b, b0 + j++);
    at = {at.X + step.X, at.Y + step.Y};
  }
  return sum;
}

Shape make_shape(const Polygon& outer, double grow_m, double slot_m, double coarse_m) {
  const Regions part = {{outer, {}}};
  const Regions grown = offset(part, grow_m);
  Regions closed = offset(offset(part, grow_m + slot_m / 2), -slot_m / 2);
  closed.insert(closed.end(), grown.begin(), grown.end());
  Polygon ring = simplified_outward(largest_outer(unite(closed)), 40, coarse_m);
  for (Vec2& p : ring) p = (p * kGrid).array().round() / kGrid;
  if (self_crossing(ring)) ring = convex_hull(largest_outer(grown));
  Shape shape{to_path(outer), to_path(ring), {}};
  for (const Polygon& piece : convex_pieces(ring)) shape.pieces.push_back(to_path(piece));
  return shape;
}

}  // namespace skewback::nest
