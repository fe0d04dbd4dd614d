#include "deliver/triangles.hpp"

#include <map>
#include <utility>

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

using Corners = std::array<int, 3>;

// Corners of the face in its plane; the triangulation hands the same points back.
std::vector<Corners> cut_reentrant(const std::vector<int>& face, const std::vector<Vec3>& ring,
                                   const Vec3& normal) {
  const Frame frame = frame_on({ring[0], normal});
  Region region;
  std::map<std::pair<double, double>, int> corner_at;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Vec2 p = frame.to_local(ring[i]).head<2>();
    region.outer.push_back(p);
    corner_at[{p.x(), p.y()}] = face[i];
  }
  const TriangleMesh2 mesh = triangulate(region);
  std::vector<Corners> out;
  for (const auto& t : mesh.triangles) {
    Corners corners{};
    for (std::size_t k = 0; k < 3; ++k) {
      const Vec2& p = mesh.vertices[static_cast<std::size_t>(t[k])];
      corners[k] = corner_at.at({p.x(), p.y()});
    }
    out.push_back(corners);
  }
  return out;
}

std::vector<Corners> cut_face(const Solid& solid, const std::vector<int>& face, Vec3& normal) {
  std::vector<Vec3> ring;
  for (const int v : face) ring.push_back(solid.vertices[static_cast<std::size_t>(v)]);
  if (ring.size() < 3) return {};
  const Vec3 twice = area_vector(ring);
  const double size = twice.norm();
  normal = size > 0 ? Vec3(twice / size) : Vec3::Zero();
  if (ring.size() > 3 && size > 0 && !convex(ring, normal, size)) {
    auto cut = cut_reentrant(face, ring, normal);
    if (!cut.empty()) return cut;
  }
  std::vector<Corners> fan;
  for (std::size_t i = 2; i < face.size(); ++i) fan.push_back({face[0], face[i - 1], face[i]});
  return fan;
}

}  // namespace

std::vector<std::array<int, 3>> triangle_corners(const Solid& solid) {
  std::vector<Corners> out;
  Vec3 normal;
  for (const auto& face : solid.faces)
    for (const Corners& t : cut_face(solid, face, normal)) out.push_back(t);
  return out;
}

std::vector<FlatTriangle> triangles(const Solid& solid) {
  std::vector<FlatTriangle> out;
  Vec3 normal;
  for (const auto& face : solid.faces) {
    for (const Corners& t : cut_face(solid, face, normal)) {
      const auto at = [&](std::size_t k) -> const Vec3& {
        return solid.vertices[static_cast<std::size_t>(t[k])];
      };
      if ((at(1) - at(0)).cross(at(2) - at(0)).norm() > 0)
        out.push_back({{at(0), at(1), at(2)}, normal});
    }
  }
  return out;
}

}  // namespace skewback::deliver
