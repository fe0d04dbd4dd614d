#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Surface_mesh.h>
#include <CGAL/convex_hull_3.h>

#include "geometry/hull.hpp"

namespace skewback {

Solid hull_of(const std::vector<Vec3>& points) {
  using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
  using Mesh = CGAL::Surface_mesh<Kernel::Point_3>;
  if (points.size() < 4) return {};
  std::vector<Kernel::Point_3> given;
  for (const Vec3& p : points) given.emplace_back(p.x(), p.y(), p.z());
  Mesh mesh;
  CGAL::convex_hull_3(given.begin(), given.end(), mesh);
  if (mesh.number_of_faces() < 4 || !CGAL::is_closed(mesh)) return {};
  mesh.collect_garbage();
  Solid out;
  for (const auto v : mesh.vertices()) {
    const auto& p = mesh.point(v);
    out.vertices.emplace_back(p.x(), p.y(), p.z());
  }
  for (const auto f : mesh.faces()) {
    std::vector<int> face;
    for (const auto v : mesh.vertices_around_face(mesh.halfedge(f)))
      face.push_back(static_cast<int>(v.idx()));
    out.faces.push_back(face);
  }
  return out;
}

}  // namespace skewback
