// With cgal_distance.cpp the only files that include CGAL.
#include <CGAL/Constrained_Delaunay_triangulation_2.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_mesh_processing/clip.h>
#include <CGAL/Polygon_mesh_processing/corefinement.h>
#include <CGAL/Polygon_mesh_processing/self_intersections.h>
#include <CGAL/Polygon_mesh_processing/triangulate_faces.h>
#include <CGAL/Surface_mesh.h>
#include <CGAL/Triangulation_face_base_with_info_2.h>
#include <CGAL/Triangulation_vertex_base_with_info_2.h>

#include <algorithm>
#include <deque>
#include <iterator>
#include <limits>

#include "geometry/crossings.hpp"
#include "geometry/geometry.hpp"

namespace skewback {
namespace {

namespace pmp = CGAL::Polygon_mesh_processing;
using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Point = Kernel::Point_3;
using Mesh = CGAL::Surface_mesh<Point>;

Result<Mesh> to_mesh(const Solid& solid) {
  Mesh mesh;
  mesh.reserve(static_cast<Mesh::size_type>(solid.vertices.size()), 0, 0);
  for (const Vec3& v : solid.vertices) mesh.add_vertex(Point(v.x(), v.y(), v.z()));
  std::vector<Mesh::Vertex_index> ring;
  for (const auto& face : solid.faces) {
    ring.clear();
    for (int v : face) ring.push_back(Mesh::Vertex_index(static_cast<Mesh::size_type>(v)));
    if (mesh.add_face(ring) == Mesh::null_face()) {
      return Fault{.key = "geometry",
                   .found = "a surface with an edge shared by more than two faces",
                   .expected = "a closed two-sided surface",
                   .change = ""};
    }
  }
  if (!CGAL::is_closed(mesh)) {
    return Fault{
        .key = "geometry", .found = "an open surface", .expected = "a closed one", .change = ""};
  }
  if (!CGAL::is_triangle_mesh(mesh)) pmp::triangulate_faces(mesh);
  return mesh;
}

Solid to_solid(Mesh& mesh) {
  mesh.collect_garbage();
  Solid out;
  out.vertices.reserve(mesh.number_of_vertices());
  for (const auto v : mesh.vertices()) {
    const Point& p = mesh.point(v);
    out.vertices.emplace_back(p.x(), p.y(), p.z());
  }
  out.faces.reserve(mesh.number_of_faces());
  for (const auto f : mesh.faces()) {
    std::vector<int> face;
    for (const auto v : CGAL::vertices_around_face(mesh.halfedge(f), mesh))
      face.push_back(static_cast<int>(v.idx()));
    out.faces.push_back(std::move(face));
  }
  return out;
}

Kernel::Plane_3 to_plane(const Plane& p) {
  return {Point(p.point.x(), p.point.y(), p.point.z()),
          Kernel::Vector_3(p.normal.x(), p.normal.y(), p.normal.z())};
}

Fault clip_failed() {
  return {.key = "geometry",
          .found = "a surface that could not be clipped by a plane",
          .expected = "a closed surface that does not cross itself",
          .change = ""};
}

}  // namespace

namespace {

// a surface that crosses itself could keep it going round for ever
auto whole() { return CGAL::parameters::clip_volume(true).throw_on_self_intersection(true); }

}  // namespace

Result<Solid> clip(const Solid& solid, const Plane& plane) {
  Result<Mesh> mesh = to_mesh(solid);
  if (!mesh) return mesh.faults();
  Mesh m = std::move(mesh).value();
  try {
    if (!pmp::clip(m, to_plane(plane), whole())) return clip_failed();
  } catch (const std::exception&) {
    return clip_failed();
  }
  return to_solid(m);
}

Result<std::pair<Solid, Solid>> split(const Solid& solid, const Plane& plane) {
  Result<Mesh> mesh = to_mesh(solid);
  if (!mesh) return mesh.faults();
  Mesh behind = mesh.value(), front = std::move(mesh).value();
  const Kernel::Plane_3 p = to_plane(plane);
  try {
    if (!pmp::clip(behind, p, whole()) || !pmp::clip(front, p.opposite(), whole())) {
      return clip_failed();
    }
  } catch (const std::exception&) {
    return clip_failed();
  }
  return std::pair{to_solid(behind), to_solid(front)};
}

namespace {

template <class Operation>
Result<Solid> combined(const Solid& a, const Solid& b, Operation operation) {
  Result<Mesh> ma = to_mesh(a), mb = to_mesh(b);
  if (!ma) return ma.faults();
  if (!mb) return mb.faults();
  Mesh first = std::move(ma).value(), second = std::move(mb).value(), out;
  try {
    if (!operation(first, second, out)) return clip_failed();
  } catch (const std::exception&) {
    return clip_failed();
  }
  return to_solid(out);
}

}  // namespace

Result<Solid> subtract(const Solid& a, const Solid& b) {
  return combined(a, b, [](Mesh& first, Mesh& second, Mesh& out) {
    return pmp::corefine_and_compute_difference(first, second, out);
  });
}

Result<Solid> unite(const Solid& a, const Solid& b) {
  return combined(a, b, [](Mesh& first, Mesh& second, Mesh& out) {
    return pmp::corefine_and_compute_union(first, second, out);
  });
}

Result<bool> self_intersects(const Solid& solid) {
  Result<Mesh> mesh = to_mesh(solid);
  if (!mesh) return mesh.faults();
  return pmp::does_self_intersect(mesh.value());
}

Result<std::vector<Vec3>> self_crossings(const Solid& solid) {
  Result<Mesh> made = to_mesh(solid);
  if (!made) return made.faults();
  const Mesh& mesh = made.value();
  std::vector<std::pair<Mesh::Face_index, Mesh::Face_index>> pairs;
  pmp::self_intersections(mesh, std::back_inserter(pairs));
  std::sort(pairs.begin(), pairs.end());
  std::vector<Vec3> out;
  for (const auto& pair : pairs) {
    Vec3 sum = Vec3::Zero();
    for (const auto v : CGAL::vertices_around_face(mesh.halfedge(pair.first), mesh)) {
      const Point& p = mesh.point(v);
      sum += Vec3(p.x(), p.y(), p.z()) / 3;
    }
    out.push_back(sum);
  }
  return out;
}

TriangleMesh2 triangulate(const Region& region) {
  using Vb = CGAL::Triangulation_vertex_base_with_info_2<int, Kernel>;
  using Fb = CGAL::Triangulation_face_base_with_info_2<
      int, Kernel, CGAL::Constrained_triangulation_face_base_2<Kernel>>;
  using Tds = CGAL::Triangulation_data_structure_2<Vb, Fb>;
  using Cdt =
      CGAL::Constrained_Delaunay_triangulation_2<Kernel, Tds, CGAL::No_constraint_intersection_tag>;
  Cdt cdt;
  TriangleMesh2 out;
  std::vector<std::vector<Cdt::Vertex_handle>> rings;
  const auto insert = [&](const Polygon& ring) {
    rings.emplace_back();
    for (const Vec2& p : ring) {
      const auto h = cdt.insert(Kernel::Point_2(p.x(), p.y()));
      h->info() = static_cast<int>(out.vertices.size());
      out.vertices.push_back(p);
      rings.back().push_back(h);
    }
  };
  insert(region.outer);
  for (const Polygon& hole : region.holes) insert(hole);
  if (cdt.number_of_vertices() != out.vertices.size()) return {};  // a point was given twice
  try {
    for (const auto& ring : rings) {
      for (std::size_t i = 0; i < ring.size(); ++i) {
        cdt.insert_constraint(ring[i], ring[(i + 1) % ring.size()]);
      }
    }
  } catch (const std::exception&) {
    return {};  // outlines that cross
  }
  // Depth of each face = constraints crossed from outside; odd is inside.
  constexpr int kUnseen = -1;
  for (const auto f : cdt.all_face_handles()) f->info() = kUnseen;
  cdt.infinite_face()->info() = 0;
  std::deque<Cdt::Face_handle> inner{cdt.infinite_face()};
  while (!inner.empty()) {
    const auto f = inner.front();
    inner.pop_front();
    for (int i = 0; i < 3; ++i) {
      const auto g = f->neighbor(i);
      if (g->info() != kUnseen) continue;
      const bool crossed = f->is_constrained(i);
      g->info() = f->info() + (crossed ? 1 : 0);
      if (crossed) {
        inner.push_back(g);
      } else {
        inner.push_front(g);
      }
    }
  }
  for (const auto f : cdt.finite_face_handles()) {
    if (f->info() % 2 == 1) {
      out.triangles.push_back({f->vertex(0)->info(), f->vertex(1)->info(), f->vertex(2)->info()});
    }
  }
  return out;
}

}  // namespace skewback
