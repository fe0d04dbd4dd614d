#include "form/height_field.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {
namespace {

constexpr double kSlack = 1e-6;  // barycentric

double cross(const Vec2& a, const Vec2& b) { return a.x() * b.y() - a.y() * b.x(); }

}  // namespace

HeightField::HeightField(const std::vector<Vec3>& points,
                         const std::vector<std::array<int, 3>>& triangles)
    : points_(points), triangles_(triangles), cells_(1) {
  if (points.empty() || triangles.empty()) return;
  Vec2 high = points.front().head<2>();
  low_ = high;
  for (const Vec3& p : points) {
    low_ = low_.cwiseMin(p.head<2>());
    high = high.cwiseMax(p.head<2>());
  }
  const Vec2 extent = high - low_;
  // about one triangle a cell
  size_ = std::max(
      {std::sqrt(extent.prod() / double(triangles.size())), 1e-3 * extent.maxCoeff(), 1e-9});
  columns_ = 1 + int(extent.x() / size_);
  rows_ = 1 + int(extent.y() / size_);
  cells_.resize(std::size_t(columns_) * rows_);
  for (std::size_t t = 0; t < triangles.size(); ++t) {
    Vec2 from = points[triangles[t][0]].head<2>(), to = from;
    for (int v : triangles[t]) {
      from = from.cwiseMin(points[v].head<2>());
      to = to.cwiseMax(points[v].head<2>());
    }
    for (int i = int((from.x() - low_.x()) / size_); i <= int((to.x() - low_.x()) / size_); ++i)
      for (int j = int((from.y() - low_.y()) / size_); j <= int((to.y() - low_.y()) / size_); ++j)
        cells_[std::size_t(j) * columns_ + i].push_back(int(t));
  }
}

std::size_t HeightField::cell(const Vec2& p) const {
  const Vec2 at = (p - low_) / size_;
  const int i = int(std::clamp(at.x(), 0.0, columns_ - 1.0)),
            j = int(std::clamp(at.y(), 0.0, rows_ - 1.0));
  return std::size_t(j) * columns_ + i;
}

std::optional<HeightField::Spot> HeightField::at(const Vec2& p) const {
  for (int t : cells_[cell(p)])
    if (auto spot = within(std::size_t(t), p)) return spot;
  return std::nullopt;
}

std::optional<HeightField::Spot> HeightField::within(std::size_t triangle, const Vec2& p) const {
  Spot spot;
  spot.corner = triangles_[triangle];
  const Vec3 &a = points_[spot.corner[0]], &b = points_[spot.corner[1]],
             &c = points_[spot.corner[2]];
  const Vec2 u = (b - a).head<2>(), v = (c - a).head<2>(), w = p - a.head<2>();
  const double twice = cross(u, v);
  if (twice <= 0) return std::nullopt;
  spot.share[1] = cross(w, v) / twice;
  spot.share[2] = cross(u, w) / twice;
  spot.share[0] = 1 - spot.share[1] - spot.share[2];
  if (spot.share.minCoeff() < -kSlack) return std::nullopt;
  spot.z = spot.share[0] * a.z() + spot.share[1] * b.z() + spot.share[2] * c.z();
  const double up = b.z() - a.z(), over = c.z() - a.z();
  spot.slope = Vec2(up * v.y() - over * u.y(), over * u.x() - up * v.x()) / twice;
  return spot;
}

}  // namespace skewback
