#include "motion/facets.hpp"

namespace skewback::motion {
namespace {

constexpr double kFlat = 1e-5;       // m
constexpr double kLeastArea = 1e-6;  // m2

Vec3 area_vector(const Solid& solid, const std::vector<int>& face) {
  Vec3 sum = Vec3::Zero();
  const auto at = [&](std::size_t i) {
    return solid.vertices[static_cast<std::size_t>(face[i % face.size()])];
  };
  for (std::size_t i = 1; i + 1 < face.size(); ++i)
    sum += (at(i) - at(0)).cross(at(i + 1) - at(0)) / 2;
  return sum;
}

}  // namespace

std::vector<Facet> facets_of(const Solid& solid) {
  std::vector<Facet> out;
  std::vector<Plane> planes;
  for (const auto& face : solid.faces) {
    const Vec3 whole = area_vector(solid, face);
    if (whole.norm() < kLeastArea / 10) continue;
    const Plane plane{solid.vertices[static_cast<std::size_t>(face[0])], whole.normalized()};
    bool known = false;
    for (const Plane& p : planes)
      known = known ||
              (p.normal.dot(plane.normal) > 1 - 1e-8 && std::abs(p.distance(plane.point)) < kFlat);
    if (!known) planes.push_back(plane);
  }
  for (const Plane& plane : planes) {
    Facet facet;
    facet.frame = frame_on(plane);
    facet.region = faces_in_plane(solid, facet.frame, 1, kFlat);
    if (area(facet.region) < kLeastArea) continue;
    facet.low = Vec3::Constant(1e300);
    facet.high = -facet.low;
    for (const Region& piece : facet.region) {
      for (const Vec2& p : piece.outer) {
        const Vec3 at = facet.frame.to_world(p);
        facet.low = facet.low.cwiseMin(at);
        facet.high = facet.high.cwiseMax(at);
      }
    }
    out.push_back(std::move(facet));
  }
  return out;
}

}  // namespace skewback::motion
