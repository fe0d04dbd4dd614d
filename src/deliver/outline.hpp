#pragma once
// What a solid looks like from afar, as outlines.

#include "geometry/geometry.hpp"

namespace skewback::deliver {

/// Orthographic view: x to the right, y up on the sheet, z towards the eye. Only directions matter.
struct View {
  Vec3 origin = Vec3::Zero();
  Vec3 right = Vec3::UnitX(), up = Vec3::UnitY(), towards = Vec3::UnitZ();
  [[nodiscard]] Vec2 operator()(const Vec3& p) const {
    return {(p - origin).dot(right), (p - origin).dot(up)};
  }
  [[nodiscard]] double depth(const Vec3& p) const { return (p - origin).dot(towards); }
};

[[nodiscard]] View plan_view();
/// Looking square at the vertical plane through `from` and `to` (plan), `from` on the left, level 0
/// at the origin.
[[nodiscard]] View side_view(const Vec2& from, const Vec2& to);

/// Outline of the part of the sheet that the solid covers.
[[nodiscard]] Regions silhouette(const Solid& solid, const View& view);

}  // namespace skewback::deliver
