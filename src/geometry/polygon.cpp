#include <algorithm>
#include <cmath>

#include "geometry/geometry.hpp"

namespace skewback {
namespace {

double cross(const Vec2& a, const Vec2& b) { return a.x() * b.y() - a.y() * b.x(); }

/// {signed area, first moments} about the polygon's first point.
struct Moments {
  double area = 0;
  Vec2 first = Vec2::Zero();
};

Moments moments(const Polygon& p) {
  Moments m;
  if (p.empty()) return m;
  const Vec2 o = p.front();
  for (std::size_t i = 0; i < p.size(); ++i) {
    const Vec2 a = p[i] - o, b = p[(i + 1) % p.size()] - o;
    const double twice = cross(a, b);
    m.area += twice / 2;
    m.first += twice / 6 * (a + b);
  }
  m.first += m.area * o;
  return m;
}

void add_second_moments(const Polygon& p, std::array<double, 3>& I) {
  for (std::size_t i = 0; i < p.size(); ++i) {
    const Vec2 &a = p[i], &b = p[(i + 1) % p.size()];
    const double twice = cross(a, b);
    I[0] += twice / 12 * (a.x() * a.x() + a.x() * b.x() + b.x() * b.x());
    I[1] += twice / 12 * (a.y() * a.y() + a.y() * b.y() + b.y() * b.y());
    I[2] += twice / 24 * (2 * a.x() * a.y() + a.x() * b.y() + b.x() * a.y() + 2 * b.x() * b.y());
  }
}

bool segments_cross(const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& d) {
  const double d1 = cross(b - a, c - a), d2 = cross(b - a, d - a);
  const double d3 = cross(d - c, a - c), d4 = cross(d - c, b - c);
  return ((d1 > 0) != (d2 > 0)) && ((d3 > 0) != (d4 > 0)) && d1 != 0 && d2 != 0 && d3 != 0 &&
         d4 != 0;
}

bool inside(const Polygon& p, const Vec2& q) {
  bool in = false;
  for (std::size_t i = 0, j = p.size() - 1; i < p.size(); j = i++) {
    if ((p[i].y() > q.y()) != (p[j].y() > q.y()) &&
        q.x() < (p[j].x() - p[i].x()) * (q.y() - p[i].y()) / (p[j].y() - p[i].y()) + p[i].x()) {
      in = !in;
    }
  }
  return in;
}

}  // namespace

Frame frame_on(const Plane& plane) {
  Frame f;
  f.origin = plane.point;
  f.z = plane.normal.normalized();
  const Vec3 up = Vec3::UnitZ() - f.z.z() * f.z;
  if (up.norm() > 1e-9) {
    f.y = up.normalized();
    f.x = f.y.cross(f.z);
  } else {
    f.x = (Vec3::UnitX() - f.z.x() * f.z).normalized();
    f.y = f.z.cross(f.x);
  }
  return f;
}

double area(const Polygon& polygon) { return moments(polygon).area; }

double area(const Region& region) {
  double a = area(region.outer);
  for (const Polygon& hole : region.holes) a += area(hole);
  return a;
}

double area(const Regions& regions) {
  double a = 0;
  for (const Region& r : regions) a += area(r);
  return a;
}

Vec2 centroid(const Regions& regions) {
  Moments total;
  const auto add = [&](const Polygon& p) {
    const Moments m = moments(p);
    total.area += m.area;
    total.first += m.first;
  };
  for (const Region& r : regions) {
    add(r.outer);
    for (const Polygon& hole : r.holes) add(hole);
  }
  return total.area != 0 ? Vec2(total.first / total.area) : Vec2::Zero();
}

Vec2 centroid(const Region& region) { return centroid(Regions{region}); }

bool contains(const Region& region, const Vec2& p) {
  if (!inside(region.outer, p)) return false;
  return std::none_of(region.holes.begin(), region.holes.end(),
                      [&](const Polygon& hole) { return inside(hole, p); });
}

bool self_crossing(const Polygon& p) {
  const std::size_t n = p.size();
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = i + 2; j < n; ++j) {
      if (i == 0 && j == n - 1) continue;
      if (segments_cross(p[i], p[(i + 1) % n], p[j], p[(j + 1) % n])) return true;
    }
  }
  return false;
}

namespace {

/// Without corners that lie within 1e-12 m between their neighbours.
Polygon without_straight_corners(Polygon hull) {
  for (std::size_t i = 0; i < hull.size() && hull.size() > 3;) {
    const std::size_t n = hull.size();
    const Vec2 e = hull[i] - hull[(i + n - 1) % n], f = hull[(i + 1) % n] - hull[i];
    const bool straight = e.dot(f) >= 0 && cross(e, f) <= 1e-12 * (e.norm() + f.norm());
    if (!straight) {
      ++i;
      continue;
    }
    hull.erase(hull.begin() + static_cast<std::ptrdiff_t>(i));
    i = i == 0 ? 0 : i - 1;
  }
  return hull;
}

}  // namespace

Polygon convex_hull(const std::vector<Vec2>& points) {
  std::vector<Vec2> p = points;
  std::sort(p.begin(), p.end(), [](const Vec2& a, const Vec2& b) {
    return a.x() != b.x() ? a.x() < b.x() : a.y() < b.y();
  });
  if (p.size() < 3) return p;
  Polygon hull;
  // No tolerance here: along an edge that is upright to rounding the order is by noise in x, and a
  // true corner may come between two points of one edge.
  const auto grow = [&hull](const Vec2& q, std::size_t base) {
    while (hull.size() >= base + 2 &&
           cross(hull.back() - hull[hull.size() - 2], q - hull.back()) <= 0) {
      hull.pop_back();
    }
    hull.push_back(q);
  };
  for (const Vec2& q : p) grow(q, 0);
  const std::size_t lower = hull.size() - 1;
  for (auto it = p.rbegin() + 1; it != p.rend(); ++it) grow(*it, lower);
  hull.pop_back();
  return without_straight_corners(std::move(hull));
}

std::array<double, 3> second_moments(const Region& region) {
  std::array<double, 3> I{0, 0, 0};
  add_second_moments(region.outer, I);
  for (const Polygon& hole : region.holes) add_second_moments(hole, I);
  return I;
}

}  // namespace skewback
