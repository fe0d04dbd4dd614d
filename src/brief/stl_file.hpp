#pragma once

#include "brief/drawing.hpp"

namespace skewback {

/// STL, binary or text; corners that are the same to the last digit are one vertex; normals and
/// colours are passed over. In the file's unit, which STL does not say. Faults: cut short, no
/// number, no triangle.
[[nodiscard]] Result<TriangleMesh3> read_stl(const DrawingFile& file);

}  // namespace skewback
