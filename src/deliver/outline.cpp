#include "deliver/outline.hpp"

namespace skewback::deliver {

View plan_view() { return {}; }

View side_view(const Vec2& from, const Vec2& to) {
  View view;
  view.origin = {from.x(), from.y(), 0};
  const Vec2 along = (to - from).normalized();
  view.right = {along.x(), along.y(), 0};
  view.up = Vec3::UnitZ();
  view.towards = view.right.cross(view.up);
  return view;
}

Regions silhouette(const Solid& solid, const View& view) {
  Regions facing;
  Polygon ring;
  for (const auto& face : solid.faces) {
    ring.clear();
    for (const int v : face) ring.push_back(view(solid.vertices[static_cast<std::size_t>(v)]));
    if (area(ring) > 1e-10) facing.push_back({ring, {}});
  }
  return unite(facing);
}

}  // namespace skewback::deliver
