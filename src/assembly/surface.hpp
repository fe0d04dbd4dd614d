#pragma once
// Private to assembly/: what keeps the faces of a solid from closing round it.

#include <optional>
#include <utility>

#include "geometry/geometry.hpp"

namespace skewback {

struct SurfaceFault {
  std::pair<int, int> edge = {-1, -1};  // directed; no face runs back along it
  int face = -1;  // runs the other way round than most of those it hangs together with; -1: the
                  // edge is on no two faces
};

/// The first fault; none where every directed edge is met once by its reverse.
[[nodiscard]] std::optional<SurfaceFault> surface_fault(const Solid& solid);

}  // namespace skewback
