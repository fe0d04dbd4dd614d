// With cgal.cpp and cgal_hull.cpp the only files that include CGAL.
#include <CGAL/AABB_face_graph_triangle_primitive.h>
#include <CGAL/AABB_traits.h>
#include <CGAL/AABB_tree.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_mesh_processing/compute_normal.h>
#include <CGAL/Polygon_mesh_processing/triangulate_faces.h>
#include <CGAL/Side_of_triangle_mesh.h>
#include <CGAL/Surface_mesh.h>

#include "geometry/near_surface.hpp"

namespace skewback {
namespace {

namespace pmp = CGAL::Polygon_mesh_processing;
using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Point = Kernel::Point_3;
using Mesh = CGAL::Surface_mesh<Point>;
using Primitive = CGAL::AABB_face_graph_triangle_primitive<Mesh>;
using Boxes = CGAL::AABB_tree<CGAL::AABB_traits<Kernel, Primitive>>;
using Inside = CGAL::Side_of_triangle_mesh<Mesh, Kernel>;

Fault open_surface() {
  return {.key = "geometry",
          .found = "an open surface, or an edge shared by more than two faces",
          .expected = "a closed two-sided surface",
          .change = ""};
}

Point point(const Vec3& p) { return {p.x(), p.y(), p.z()}; }

}  // namespace

struct NearSurface::Tree {
  Mesh mesh;
  Boxes boxes;
  std::vector<Vec3> normals;  // by face
  std::unique_ptr<Inside> inside;
};

Result<NearSurface> NearSurface::of(const Solid& solid) {
  auto tree = std::make_shared<Tree>();
  Mesh& mesh = tree->mesh;
  for (const Vec3& v : solid.vertices) mesh.add_vertex(point(v));
  for (const auto& face : solid.faces) {
    std::vector<Mesh::Vertex_index> ring;
    for (const int v : face) ring.emplace_back(static_cast<Mesh::size_type>(v));
    if (mesh.add_face(ring) == Mesh::null_face()) return open_surface();
  }
  if (mesh.number_of_faces() == 0 || !CGAL::is_closed(mesh)) return open_surface();
  if (!CGAL::is_triangle_mesh(mesh)) pmp::triangulate_faces(mesh);
  mesh.collect_garbage();
  tree->normals.resize(mesh.number_of_faces());
  for (const auto f : mesh.faces()) {
    const auto n = pmp::compute_face_normal(f, mesh);
    tree->normals[f.idx()] = {n.x(), n.y(), n.z()};
  }
  tree->boxes.insert(faces(mesh).first, faces(mesh).second, mesh);
  tree->boxes.build();
  tree->boxes.accelerate_distance_queries();
  tree->inside = std::make_unique<Inside>(tree->boxes);
  return NearSurface(tree);
}

OnSurface NearSurface::nearest(const Vec3& p) const {
  const auto [q, face] = tree_->boxes.closest_point_and_primitive(point(p));
  return {{q.x(), q.y(), q.z()}, tree_->normals[face.idx()]};
}

double NearSurface::distance(const Vec3& p) const {
  const double d = (nearest(p).at - p).norm();
  return (*tree_->inside)(point(p)) == CGAL::ON_BOUNDED_SIDE ? -d : d;
}

}  // namespace skewback
