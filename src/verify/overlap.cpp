#include "verify/overlap.hpp"

#include <algorithm>
#include <cmath>

namespace skewback::audit {
namespace {

constexpr double kOn = 1e-9;    // m: a point this near an edge is on it
constexpr double kStep = 1e-7;  // m: how far a corner is left to look for the overlap's interior
constexpr double kThinnest = 1e-6;  // m: mean width of the narrowest overlap

double cross(const Vec2& a, const Vec2& b) { return a.x() * b.y() - a.y() * b.x(); }

bool inside(const Patch& patch, const Vec2& p) {  // even-odd
  bool in = false;
  for (const Edge& e : patch) {
    if ((e.from.y() > p.y()) == (e.to.y() > p.y())) continue;
    const double t = (p.y() - e.from.y()) / (e.to.y() - e.from.y());
    if (p.x() < e.from.x() + t * (e.to.x() - e.from.x())) in = !in;
  }
  return in;
}

bool on(const Edge& e, const Vec2& p) {
  const Vec2 along = e.to - e.from;
  const double length2 = along.squaredNorm();
  const double t = length2 > 0 ? std::clamp((p - e.from).dot(along) / length2, 0.0, 1.0) : 0;
  return (e.from + t * along - p).norm() <= kOn;
}

bool reaches(const Patch& patch, const Vec2& p) {
  return inside(patch, p) ||
         std::any_of(patch.begin(), patch.end(), [&](const Edge& e) { return on(e, p); });
}

// Extreme points of the overlap are corners of one patch within the other, or crossings of edges.
std::vector<Vec2> candidates(const Patch& a, const Patch& b) {
  std::vector<Vec2> points;
  for (const Edge& e : a) {
    if (reaches(b, e.from)) points.push_back(e.from);
  }
  for (const Edge& e : b) {
    if (reaches(a, e.from)) points.push_back(e.from);
  }
  for (const Edge& e : a) {
    const Vec2 u = e.to - e.from;
    for (const Edge& f : b) {
      const Vec2 v = f.to - f.from;
      const double det = cross(u, v);
      if (std::abs(det) <= 1e-12 * u.norm() * v.norm()) continue;
      const double s = cross(f.from - e.from, v) / det, t = cross(f.from - e.from, u) / det;
      if (s >= 0 && s <= 1 && t >= 0 && t <= 1) points.push_back(e.from + s * u);
    }
  }
  return points;
}

// The edges through p divide its surroundings into sectors; one of them must lie in both patches.
bool interior_is_near(const Patch& a, const Patch& b, const Vec2& p) {
  std::vector<double> angles;
  for (const Patch* patch : {&a, &b}) {
    for (const Edge& e : *patch) {
      if (!on(e, p)) continue;
      const Vec2 u = e.to - e.from;
      angles.push_back(std::atan2(u.y(), u.x()));
      angles.push_back(std::atan2(-u.y(), -u.x()));
    }
  }
  if (angles.empty()) return inside(a, p) && inside(b, p);
  std::sort(angles.begin(), angles.end());
  angles.push_back(angles.front() + 2 * std::acos(-1.0));
  for (std::size_t i = 0; i + 1 < angles.size(); ++i) {
    const double middle = (angles[i] + angles[i + 1]) / 2;
    const Vec2 q = p + kStep * Vec2(std::cos(middle), std::sin(middle));
    if (inside(a, q) && inside(b, q)) return true;
  }
  return false;
}

std::vector<std::size_t> hull_of(const std::vector<Vec2>& points) {  // Andrew's monotone chain
  std::vector<std::size_t> order(points.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::sort(order.begin(), order.end(), [&](std::size_t i, std::size_t j) {
    return std::pair(points[i].x(), points[i].y()) < std::pair(points[j].x(), points[j].y());
  });
  std::vector<std::size_t> hull;
  for (int side = 0; side < 2; ++side) {
    const std::size_t start = hull.size();
    for (std::size_t i : order) {
      while (hull.size() >= start + 2 && cross(points[hull.back()] - points[hull[hull.size() - 2]],
                                               points[i] - points[hull.back()]) <= 0) {
        hull.pop_back();
      }
      hull.push_back(i);
    }
    hull.pop_back();
    std::reverse(order.begin(), order.end());
  }
  return hull;
}

bool thin(const std::vector<Vec2>& hull) {
  double area2 = 0, perimeter = 0;
  for (std::size_t i = 0; i < hull.size(); ++i) {
    const Vec2 &p = hull[i], &q = hull[(i + 1) % hull.size()];
    area2 += cross(p - hull[0], q - hull[0]);
    perimeter += (q - p).norm();
  }
  return area2 <= kThinnest * perimeter;
}

}  // namespace

std::vector<Vec2> overlap_hull(const Patch& a, const Patch& b) {
  std::vector<Vec2> points = candidates(a, b);
  while (points.size() >= 3) {
    const std::vector<std::size_t> corners = hull_of(points);
    std::vector<Vec2> hull;
    std::vector<char> false_corner(points.size(), 0);
    for (std::size_t i : corners) {
      hull.push_back(points[i]);
      false_corner[i] = !interior_is_near(a, b, points[i]);
    }
    if (thin(hull)) return {};
    if (std::none_of(false_corner.begin(), false_corner.end(), [](char c) { return c != 0; }))
      return hull;
    std::vector<Vec2> rest;
    for (std::size_t i = 0; i < points.size(); ++i) {
      if (false_corner[i] == 0) rest.push_back(points[i]);
    }
    points = std::move(rest);
  }
  return {};
}

}  // namespace skewback::audit
