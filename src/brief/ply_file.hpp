#pragma once

#include "brief/drawing.hpp"

namespace skewback {

/// PLY (Turk 1994), ASCII or binary of either order; of the vertices x, y and z, of the faces their
/// list of corners, fanned into triangles; whatever else is there is passed over. In the file's
/// unit. Faults: not PLY, cut short, corners that are not there or not finite.
[[nodiscard]] Result<TriangleMesh3> read_ply(const DrawingFile& file);

}  // namespace skewback
