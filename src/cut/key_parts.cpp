#include "cut/key_parts.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/constants.hpp"
#include "cut/corner.hpp"

namespace skewback {
namespace {

constexpr int kBearings = 36;
constexpr int kHalvings = 40;

/// Area of a convex polygon behind a line square to `normal`.
double area_behind(const Polygon& polygon, const Vec2& normal, double offset) {
  Polygon kept;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Vec2 &a = polygon[i], &b = polygon[(i + 1) % polygon.size()];
    const double from = normal.dot(a) - offset, to = normal.dot(b) - offset;
    if (from <= 0) kept.push_back(a);
    if ((from < 0 && to > 0) || (from > 0 && to < 0))
      kept.push_back(a + from / (from - to) * (b - a));
  }
  return kept.size() < 3 ? 0 : area(kept);
}

/// Where lines square to `normal` divide the polygon in equal parts.
std::vector<double> equal_parts(const Polygon& polygon, const Vec2& normal, int count) {
  double least = std::numeric_limits<double>::max(), most = -least;
  for (const Vec2& p : polygon) {
    least = std::min(least, normal.dot(p));
    most = std::max(most, normal.dot(p));
  }
  std::vector<double> out;
  for (int i = 1; i < count; ++i) {
    double low = least, high = most;
    for (int k = 0; k < kHalvings; ++k) {
      const double mid = (low + high) / 2;
      (area_behind(polygon, normal, mid) < area(polygon) * i / count ? low : high) = mid;
    }
    out.push_back((low + high) / 2);
  }
  return out;
}

struct Lines {
  Vec2 normal = Vec2::UnitX();
  std::vector<double> offsets;
};

Lines clear_of_corners(const Polygon& outline, int count) {
  Lines best;
  double furthest = -1;
  for (int i = 0; i < kBearings; ++i) {
    const double bearing = kPi * i / kBearings;
    const Vec2 normal(std::cos(bearing), std::sin(bearing));
    std::vector<double> offsets = equal_parts(outline, normal, count);
    double least = std::numeric_limits<double>::max();
    for (const double offset : offsets)
      for (const Vec2& p : outline) least = std::min(least, std::abs(normal.dot(p) - offset));
    if (least > furthest + 1e-9) {
      furthest = least;
      best = {normal, std::move(offsets)};
    }
  }
  return best;
}

}  // namespace

Polygon key_outline(const std::vector<ArmCuts>& arms, double z) {
  const std::size_t n = arms.size();
  Polygon out;
  for (std::size_t k = 0; k < n; ++k)
    out.push_back(corner(arms[k].planes.back(), arms[(k + 1) % n].planes.back(), z).head<2>());
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 in = out[(i + 1) % n] - out[i], on = out[(i + 2) % n] - out[(i + 1) % n];
    if (in.x() * on.y() - in.y() * on.x() <= 0) return {};
  }
  return out;
}

Result<Parts> divide_key(const Course& key, const std::vector<ArmCuts>& arms, double pad_m,
                         int count) {
  const Vec3 middle = mass_properties(key.solid).centroid;
  Polygon outline = key_outline(arms, middle.z());
  if (outline.empty()) {
    std::vector<Vec2> seen;
    for (const Vec3& p : key.solid.vertices) seen.emplace_back(p.head<2>());
    outline = convex_hull(seen);
  }
  const Lines lines = clear_of_corners(outline, count);
  const Vec3 normal(lines.normal.x(), lines.normal.y(), 0);
  std::vector<Plane> walls;
  for (const double offset : lines.offsets)
    walls.push_back({normal * offset + Vec3(0, 0, middle.z()), normal});
  return divided_at(key.solid, walls, pad_m);
}

}  // namespace skewback
