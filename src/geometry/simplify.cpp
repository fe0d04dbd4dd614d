#include "geometry/simplify.hpp"

#include <algorithm>

namespace skewback {
namespace {

constexpr double kNear = 1e-6;  // m

/// Marks what is kept strictly between `first` and `last`; indices past the end start again.
void keep_far(const std::vector<Vec2>& points, std::size_t first, std::size_t last,
              double tolerance_m, std::vector<bool>& keep) {
  const auto at = [&](std::size_t i) -> const Vec2& { return points[i % points.size()]; };
  std::vector<std::pair<std::size_t, std::size_t>> open{{first, last}};
  while (!open.empty()) {
    const auto [i, j] = open.back();
    open.pop_back();
    double most = tolerance_m;
    std::size_t far = i;
    for (std::size_t k = i + 1; k < j; ++k) {
      const double off = off_segment(at(k), at(i), at(j));
      if (off > most) most = off, far = k;
    }
    if (far == i) continue;
    keep[far % points.size()] = true;
    open.emplace_back(i, far);
    open.emplace_back(far, j);
  }
}

std::vector<Vec2> kept(const std::vector<Vec2>& points, const std::vector<bool>& keep) {
  std::vector<Vec2> out;
  for (std::size_t i = 0; i < points.size(); ++i)
    if (keep[i]) out.push_back(points[i]);
  return out;
}

}  // namespace

double share_along(const Vec2& p, const Vec2& a, const Vec2& b) {
  const Vec2 d = b - a;
  const double length2 = d.squaredNorm();
  return length2 > 0 ? std::clamp((p - a).dot(d) / length2, 0.0, 1.0) : 0.0;
}

double off_segment(const Vec2& p, const Vec2& a, const Vec2& b) {
  return (p - a - share_along(p, a, b) * (b - a)).norm();
}

std::vector<Vec2> simplified_line(const std::vector<Vec2>& line, double tolerance_m) {
  if (line.size() < 3) return line;
  std::vector<bool> keep(line.size(), false);
  keep.front() = keep.back() = true;
  keep_far(line, 0, line.size() - 1, tolerance_m, keep);
  return kept(line, keep);
}

Polygon simplified(const Polygon& outline, double tolerance_m) {
  if (outline.size() < 4) return outline;
  Vec2 middle = Vec2::Zero();
  for (const Vec2& p : outline) middle += p / static_cast<double>(outline.size());
  const auto farthest = [&](const Vec2& from) {
    std::size_t far = 0;
    for (std::size_t i = 1; i < outline.size(); ++i) {
      if ((outline[i] - from).norm() > (outline[far] - from).norm() + kNear) far = i;
    }
    return far;
  };
  const std::size_t a = farthest(middle), b = farthest(outline[a]);
  std::vector<bool> keep(outline.size(), false);
  keep[a] = keep[b] = true;
  keep_far(outline, std::min(a, b), std::max(a, b), tolerance_m, keep);
  keep_far(outline, std::max(a, b), std::min(a, b) + outline.size(), tolerance_m, keep);
  return kept(outline, keep);
}

}  // namespace skewback
