// Meshes of a surface to come close to.

#include "brief/obj_file.hpp"
#include "brief/ply_file.hpp"
#include "brief/stl_file.hpp"
#include "brief/text.hpp"

namespace skewback {
namespace {

Result<TriangleMesh3> from_obj(const DrawingFile& file) {
  const Result<ObjFile> obj = read_obj(file);
  if (!obj) return obj.faults();
  TriangleMesh3 mesh{obj->vertices, {}};
  for (const ObjItem& item : obj->items)
    for (std::size_t k = 1; item.kind == 'f' && k + 1 < item.corners.size(); ++k)
      mesh.triangles.push_back({static_cast<int>(item.corners[0]),
                                static_cast<int>(item.corners[k]),
                                static_cast<int>(item.corners[k + 1])});
  return mesh;
}

}  // namespace

Result<TriangleMesh3> read_surface(const std::filesystem::path& path, const std::string& unit) {
  const Result<DrawingFile> file = read_file(path, unit);
  if (!file) return file.faults();
  const std::string kind = ending(path);
  if (kind != ".obj" && kind != ".ply" && kind != ".stl")
    return file->fault(0, "", "a file that ends in " + in_quotes(kind), ".obj, .ply or .stl",
                       "save the surface as one of these");
  Result<TriangleMesh3> mesh = kind == ".obj"   ? from_obj(*file)
                               : kind == ".stl" ? read_stl(*file)
                                                : read_ply(*file);
  if (!mesh) return mesh;
  if (mesh->triangles.empty())
    return file->fault(0, "", "a mesh without faces", "triangles or polygons", "save it as a mesh");
  const Result<double> metres = settle_unit(*file, 0, "coordinates");
  if (!metres) return metres.faults();
  TriangleMesh3 scaled = std::move(mesh).value();
  for (Vec3& v : scaled.vertices) v *= *metres;
  return scaled;
}

}  // namespace skewback
