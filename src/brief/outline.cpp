#include "brief/outline.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace skewback {
namespace {

double cross(const Vec2& a, const Vec2& b) { return a.x() * b.y() - a.y() * b.x(); }

double side_of(const Vec2& a, const Vec2& b, const Vec2& p) { return cross(b - a, p - a); }

bool in_box(const Vec2& a, const Vec2& b, const Vec2& p) {
  return std::min(a.x(), b.x()) <= p.x() && p.x() <= std::max(a.x(), b.x()) &&
         std::min(a.y(), b.y()) <= p.y() && p.y() <= std::max(a.y(), b.y());
}

bool meet(const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& d) {
  const double c1 = side_of(a, b, c), d1 = side_of(a, b, d), a1 = side_of(c, d, a),
               b1 = side_of(c, d, b);
  if (((c1 > 0 && d1 < 0) || (c1 < 0 && d1 > 0)) && ((a1 > 0 && b1 < 0) || (a1 < 0 && b1 > 0)))
    return true;
  return (c1 == 0 && in_box(a, b, c)) || (d1 == 0 && in_box(a, b, d)) ||
         (a1 == 0 && in_box(c, d, a)) || (b1 == 0 && in_box(c, d, b));
}

}  // namespace

double distance_to_segment(const Vec2& p, const Vec2& a, const Vec2& b) {
  const double length2 = (b - a).squaredNorm();
  const double t = length2 > 0 ? std::clamp((p - a).dot(b - a) / length2, 0.0, 1.0) : 0.0;
  return (p - a - t * (b - a)).norm();
}

NearestOnOutline nearest_on_outline(const Polygon& outline, const Vec2& p) {
  NearestOnOutline best{HUGE_VAL, Vec2::Zero(), 0};
  double along = 0;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec2 &a = outline[i], &b = outline[(i + 1) % outline.size()];
    const double length = (b - a).norm();
    const double t =
        length > 0 ? std::clamp((p - a).dot(b - a) / (length * length), 0.0, 1.0) : 0.0;
    const Vec2 q = a + t * (b - a);
    if (const double d = (p - q).norm(); d < best.distance_m) best = {d, q, along + t * length};
    along += length;
  }
  return best;
}

std::optional<std::pair<std::size_t, std::size_t>> crossing_sides(const Polygon& outline) {
  const std::size_t n = outline.size();
  const auto from = [&](std::size_t i) -> const Vec2& { return outline[i]; };
  const auto to = [&](std::size_t i) -> const Vec2& { return outline[(i + 1) % n]; };
  const auto left = [&](std::size_t i) { return std::min(from(i).x(), to(i).x()); };
  const auto right = [&](std::size_t i) { return std::max(from(i).x(), to(i).x()); };
  std::vector<std::size_t> order(n);
  std::iota(order.begin(), order.end(), 0);
  std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return left(a) < left(b); });

  std::optional<std::pair<std::size_t, std::size_t>> first;
  const auto note = [&](std::size_t i, std::size_t j) {
    const std::pair<std::size_t, std::size_t> pair = std::minmax(i, j);
    if (!first || pair < *first) first = pair;
  };
  for (std::size_t s = 0; s < n; ++s) {
    for (std::size_t t = s + 1; t < n && left(order[t]) <= right(order[s]); ++t) {
      const auto [i, j] = std::minmax(order[s], order[t]);
      if (j == i + 1 || (i == 0 && j == n - 1)) continue;
      if (meet(from(i), to(i), from(j), to(j))) note(i, j);
    }
  }
  for (std::size_t i = 0; i < n; ++i) {  // neighbours share a corner; they may still fold back
    const std::size_t j = (i + 1) % n;
    const Vec2 u = from(i) - to(i), v = to(j) - from(j);
    if (cross(u, v) == 0 && u.dot(v) > 0) note(i, j);
  }
  return first;
}

bool inside(const Polygon& outline, const Vec2& p) {
  bool in = false;
  for (std::size_t i = 0, j = outline.size() - 1; i < outline.size(); j = i++) {
    const Vec2 &a = outline[i], &b = outline[j];
    if ((a.y() > p.y()) != (b.y() > p.y()) &&
        p.x() < (b.x() - a.x()) * (p.y() - a.y()) / (b.y() - a.y()) + a.x())
      in = !in;
  }
  return in;
}

std::vector<double> distances_along(const Polygon& outline) {
  std::vector<double> s{0};
  for (std::size_t i = 0; i < outline.size(); ++i)
    s.push_back(s.back() + (outline[(i + 1) % outline.size()] - outline[i]).norm());
  return s;
}

}  // namespace skewback
