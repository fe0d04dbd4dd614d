#pragma once
// Heights of a triangulated surface over its plan, by place.

#include <array>
#include <optional>
#include <vector>

#include "geometry/geometry.hpp"

namespace skewback {

class HeightField {
 public:
  /// Triangles counter-clockwise seen from above; those that stand upright are left out. Both
  /// arguments must outlive this.
  HeightField(const std::vector<Vec3>& points, const std::vector<std::array<int, 3>>& triangles);

  struct Spot {
    std::array<int, 3> corner{};
    Vec3 share = Vec3::Zero();  // barycentric
    double z = 0;
    Vec2 slope = Vec2::Zero();  // grad z
  };
  /// The first triangle that holds p (to a millionth of its size); none: p is off the surface.
  [[nodiscard]] std::optional<Spot> at(const Vec2& p) const;

 private:
  [[nodiscard]] std::size_t cell(const Vec2& p) const;
  [[nodiscard]] std::optional<Spot> within(std::size_t triangle, const Vec2& p) const;

  const std::vector<Vec3>& points_;
  const std::vector<std::array<int, 3>>& triangles_;
  Vec2 low_ = Vec2::Zero();
  double size_ = 1;
  int columns_ = 1, rows_ = 1;
  std::vector<std::vector<int>> cells_;
};

}  // namespace skewback
