#include "deliver/triangles.hpp"

#include <cmath>

namespace skewback::deliver {
namespace {

Vec3 area_vector(const std::vector<Vec3>& ring) {  // Newell
  Vec3 sum = Vec3::Zero();
  for (std::size_t i = 0; i < ring.size(); ++i) {
    sum += (ring[i] - ring[0]).cross(ring[(i + 1) % ring.size()] - ring[0]);
  }
  return sum / 2;
}

bool convex(const std::vector<Vec3>& ring, const Vec3& normal, double size) {
  const std::size_t n = ring.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Vec3& p = ring[(i + 1) % n];
    const double turn = (p - ring[i]).cross(ring[(i + 2) % n] - p).dot(normal);
    if (turn < -1e-12 * size) return false;
  }
  return true;
}

void add(std::vector<FlatTriangle>& out, const Vec3& a, const Vec3& b, const Vec3& c,
         const Vec3& normal) {
  if ((b - a).cross(c - a).norm() > 0) out.push_back({{a, b, c}, normal});
}

void add_reentrant(std::vector<FlatTriangle>& out, const std::vector<Vec3>& ring,
                   const Vec3& normal) {
  const Frame frame = frame_on({ring[0], normal});
  Region region;
  for (const Vec3& p : ring) region.outer.push_back(frame.to_local(p).head<2>());
  const TriangleMesh2 mesh = triangulate(region);
  for (const auto& t : mesh.triangles) {
    add(out, frame.to_world(mesh.vertices[static_cast<std::size_t>(t[0])]),
        frame.to_world(mesh.vertices[static_cast<std::size_t>(t[1])]),
        frame.to_world(mesh.vertices[static_cast<std::size_t>(t[2])]), normal);
  }
}

}  // namespace

std::vector<FlatTriangle> triangles(const Solid& solid) {
  std::vector<FlatTriangle> out;
  std::vector<Vec3> ring;
  for (const auto& face : solid.faces) {
    ring.clear();
    for (const int v : face) ring.push_back(solid.vertices[static_cast<std::size_t>(v)]);
    if (ring.size() < 3) continue;
    const Vec3 twice = area_vector(ring);
    const double size = twice.norm();
    if (!(size > 0)) continue;
    const Vec3 normal = twice / size;
    if (ring.size() > 3 && !convex(ring, normal, size)) {
      add_reentrant(out, ring, normal);
      continue;
    }
    for (std::size_t i = 2; i < ring.size(); ++i) add(out, ring[0], ring[i - 1], ring[i], normal);
  }
  return out;
}

}  // namespace skewback::deliver
