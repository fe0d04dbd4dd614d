#include "cut/footing.hpp"

#include <algorithm>

namespace skewback {
namespace {

constexpr double kOnPlane = 1e-7;  // m
constexpr double kAbove = 0.1;     // m past the bed's upper rim

std::size_t at(int i) { return static_cast<std::size_t>(i); }

}  // namespace

Block ground_block(const Brief& brief, const Body& body, int support) {
  const Plane bed = body.springing[at(support)].moved(-brief.joints.pad_thickness_m / 2);
  const Frame frame = frame_on(bed);
  const Regions face = faces_in_plane(body.outer, frame, -1, kOnPlane);
  double top = -1e9;
  for (const Region& r : face) {
    for (const Vec2& p : r.outer) top = std::max(top, p.y());
  }
  Polygon footprint;
  for (const Region& r : offset(face, brief.ground.footing_width_m))
    footprint = convex_hull(r.outer);
  for (Vec2& p : footprint) p.y() = std::min(p.y(), top + kAbove);
  footprint = convex_hull(footprint);
  Block block;
  block.id = "ground-" + brief.plan.supports[at(support)].id;
  block.solid = prism(frame, footprint, -brief.ground.footing_depth_m, 0);
  block.density = brief.material.density;
  block.fixed = true;
  block.place.arm = support;
  return block;
}

}  // namespace skewback
