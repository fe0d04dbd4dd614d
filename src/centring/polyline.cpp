#include "centring/polyline.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {

double height(const Edge& edge, double x) {
  const auto after = std::ranges::upper_bound(edge, x, {}, [](const Vec2& p) { return p.x(); });
  if (after == edge.begin()) return edge.front().y();
  if (after == edge.end()) return edge.back().y();
  const Vec2 &p = *(after - 1), &q = *after;
  return p.y() + (x - p.x()) / (q.x() - p.x()) * (q.y() - p.y());
}

double least(const Edge& edge, double from, double to) {
  double low = std::min(height(edge, from), height(edge, to));
  for (const Vec2& p : edge) {
    if (p.x() > from && p.x() < to) low = std::min(low, p.y());
  }
  return low;
}

Edge between(const Edge& edge, double from, double to) {
  Edge part{{from, height(edge, from)}};
  for (const Vec2& p : edge) {
    if (p.x() > from + 1e-9 && p.x() < to - 1e-9) part.push_back(p);
  }
  part.emplace_back(to, height(edge, to));
  return part;
}

double under(const Edge& edge, double depth, double x) {
  double low = height(edge, x) - depth;
  for (std::size_t i = 0; i < edge.size(); ++i) {
    const double off = x - edge[i].x();
    if (std::abs(off) < depth) {
      low = std::min(low, edge[i].y() - std::sqrt(depth * depth - off * off));
    }
    if (i + 1 == edge.size()) break;
    const Vec2 way = (edge[i + 1] - edge[i]).normalized();
    const Vec2 shift = depth * Vec2(way.y(), -way.x());
    const Vec2 p = edge[i] + shift, q = edge[i + 1] + shift;
    if (x < p.x() || x > q.x()) continue;
    low = std::min(low, p.y() + (x - p.x()) / (q.x() - p.x()) * (q.y() - p.y()));
  }
  return low;
}

Edge without_straight_points(const Edge& edge) {
  Edge kept;
  for (std::size_t i = 0; i < edge.size(); ++i) {
    if (!kept.empty() && i + 1 < edge.size()) {
      const Vec2 way = (edge[i + 1] - kept.back()).normalized(), to = edge[i] - kept.back();
      if (std::abs(way.x() * to.y() - way.y() * to.x()) < 1e-10) continue;
    }
    kept.push_back(edge[i]);
  }
  return kept;
}

}  // namespace skewback
