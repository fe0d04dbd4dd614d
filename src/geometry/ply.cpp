#include "geometry/ply.hpp"

#include <CGAL/IO/PLY.h>
#include <CGAL/Simple_cartesian.h>

#include <sstream>

namespace skewback {

Result<TriangleMesh3> read_ply(const std::string& bytes) {
  const auto fault = [](const std::string& found) {
    return Fault{{}, 0, 0, "PLY", found, "a mesh in PLY, ASCII or binary", "save it again"};
  };
  std::istringstream in(bytes);
  std::vector<CGAL::Simple_cartesian<double>::Point_3> points;
  std::vector<std::vector<std::size_t>> polygons;
  if (!bytes.starts_with("ply") || !CGAL::IO::read_PLY(in, points, polygons))
    return fault("a file that cannot be read as one");
  TriangleMesh3 mesh;
  for (const auto& p : points) {
    mesh.vertices.emplace_back(p.x(), p.y(), p.z());
    if (!mesh.vertices.back().allFinite()) return fault("a coordinate that is not finite");
  }
  for (const auto& polygon : polygons) {
    for (const std::size_t i : polygon)
      if (i >= points.size()) return fault("a face with a corner that is not there");
    for (std::size_t k = 1; k + 1 < polygon.size(); ++k)
      mesh.triangles.push_back({static_cast<int>(polygon[0]), static_cast<int>(polygon[k]),
                                static_cast<int>(polygon[k + 1])});
  }
  return mesh;
}

}  // namespace skewback
