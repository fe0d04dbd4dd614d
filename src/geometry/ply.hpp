#pragma once
// Meshes in PLY, read by CGAL.

#include <string>

#include "geometry/geometry.hpp"

namespace skewback {

/// ASCII or binary; polygons are fanned. Faults: not PLY, corners that are not there or not finite.
/// A file without faces gives no triangles.
[[nodiscard]] Result<TriangleMesh3> read_ply(const std::string& bytes);

}  // namespace skewback
