#include "centring/rib_top.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {
namespace {

struct Stroke {  // a.x < b.x
  Vec2 a, b;
  [[nodiscard]] double slope() const { return (b.y() - a.y()) / (b.x() - a.x()); }
  [[nodiscard]] double at(double x) const { return a.y() + (x - a.x()) * slope(); }
};
constexpr double kShort = 1e-9;  // m
constexpr double kStep = 5e-4;   // m; width in which the edge climbs a step of the soffit

/// What is left of a polygon on the side where sign * z <= half (Sutherland and Hodgman 1974).
std::vector<Vec3> clipped(const std::vector<Vec3>& polygon, double sign, double half) {
  std::vector<Vec3> kept;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Vec3 &p = polygon[i], &q = polygon[(i + 1) % polygon.size()];
    const double dp = half - sign * p.z(), dq = half - sign * q.z();
    if (dp >= 0) kept.push_back(p);
    if ((dp >= 0) != (dq >= 0)) kept.push_back(p + dp / (dp - dq) * (q - p));
  }
  return kept;
}

std::vector<Stroke> strokes(const Soffits& all, const PlanLine& line, double from, double to,
                            double thickness, double lower) {
  const Frame frame = upright(line);
  std::vector<Stroke> out;
  for (const auto& faces : all) {
    for (const SoffitFace& face : faces) {
      std::vector<Vec3> local;
      for (const Vec3& corner : face.corners) local.push_back(frame.to_local(corner));
      const auto [low, high] = std::ranges::minmax(local, {}, [](const Vec3& p) { return p.x(); });
      if (high.x() < from || low.x() > to) continue;
      local = clipped(clipped(local, 1, thickness / 2), -1, thickness / 2);
      const double drop = lower / std::abs(face.normal.z());
      for (std::size_t i = 0; i < local.size(); ++i) {
        Vec2 p = local[i].head<2>(), q = local[(i + 1) % local.size()].head<2>();
        if (p.x() > q.x()) std::swap(p, q);
        if (q.x() - p.x() > kShort) out.push_back({p - Vec2(0, drop), q - Vec2(0, drop)});
      }
    }
  }
  return out;
}

/// Lowest of strokes that all reach from x0 to x1, as strokes one after the other.
void lowest(const std::vector<const Stroke*>& over, double x0, double x1,
            std::vector<Stroke>& out) {
  double x = x0;
  while (x < x1) {
    const double probe = std::min(x + kShort / 4, x1);
    const Stroke* low = *std::ranges::min_element(
        over, {}, [&](const Stroke* s) { return std::pair(s->at(probe), s->slope()); });
    double end = x1;
    for (const Stroke* other : over) {
      const double closing = low->slope() - other->slope();
      if (closing <= 1e-12) continue;
      const double meet = x + (other->at(x) - low->at(x)) / closing;
      if (meet > x + kShort) end = std::min(end, meet);
    }
    out.push_back({{x, low->at(x)}, {end, low->at(end)}});
    x = end;
  }
}

std::vector<Stroke> envelope(const std::vector<Stroke>& all) {
  std::vector<double> ends;
  for (const Stroke& s : all) {
    ends.push_back(s.a.x());
    ends.push_back(s.b.x());
  }
  std::ranges::sort(ends);
  std::vector<const Stroke*> waiting;
  for (const Stroke& s : all) waiting.push_back(&s);
  std::ranges::stable_sort(waiting, {}, [](const Stroke* s) { return s->a.x(); });
  std::vector<const Stroke*> over;
  std::vector<Stroke> out;
  std::size_t next = 0;
  for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
    const double x0 = ends[i], x1 = ends[i + 1];
    while (next < waiting.size() && waiting[next]->a.x() <= x0) over.push_back(waiting[next++]);
    std::erase_if(over, [&](const Stroke* s) { return s->b.x() <= x0; });
    if (x1 - x0 > kShort && !over.empty()) lowest(over, x0, x1, out);
  }
  return out;
}

/// Strokes end to end; a step is climbed or left on its higher side.
Edge chained(const std::vector<Stroke>& pieces) {
  Edge edge;
  for (const Stroke& piece : pieces) {
    const double step = std::min(kStep, (piece.b.x() - piece.a.x()) / 2);
    if (edge.empty()) {
      edge.push_back(piece.a);
    } else if (piece.a.x() > edge.back().x() + 2 * kShort) {
      edge.push_back(piece.a);
    } else if (piece.a.y() > edge.back().y() + kShort) {
      edge.emplace_back(piece.a.x() + step, piece.at(piece.a.x() + step));
    } else if (piece.a.y() < edge.back().y() - kShort) {
      const Vec2 high = edge.back();
      edge.pop_back();
      if (!edge.empty()) {
        const Vec2 before = edge.back();
        const double back = std::min(kStep, (high.x() - before.x()) / 2);
        edge.push_back(high + back / (high.x() - before.x()) * (before - high));
      }
      edge.push_back(piece.a);
    }
    edge.push_back(piece.b);
  }
  return edge;
}

/// Without the points of slivers that stand up: the edge only gets lower.
Edge without_burrs(Edge edge) {
  constexpr double kSliver = 2e-4;  // m
  for (bool again = true; again;) {
    again = false;
    for (std::size_t i = 1; i + 1 < edge.size(); ++i) {
      const Vec2 &p = edge[i - 1], &q = edge[i], &r = edge[i + 1];
      if (std::min(q.x() - p.x(), r.x() - q.x()) > kSliver) continue;
      const double chord = p.y() + (q.x() - p.x()) / (r.x() - p.x()) * (r.y() - p.y());
      if (q.y() < chord) continue;
      edge.erase(edge.begin() + static_cast<std::ptrdiff_t>(i));
      again = true;
      --i;
    }
  }
  return edge;
}

}  // namespace

Edge top_edge(const Soffits& all, const PlanLine& line, double from, double to, double thickness,
              double lower) {
  const Edge edge = chained(envelope(strokes(all, line, from, to, thickness, lower)));
  if (edge.empty()) return edge;
  return without_straight_points(without_burrs(between(edge, from, to)));
}

}  // namespace skewback
