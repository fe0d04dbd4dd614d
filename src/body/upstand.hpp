#pragma once
// Upstands of working parapets: ribs along the free edges of a leg, one with its blocks.

#include "body/body.hpp"

namespace skewback {

/// One closed solid for each stretch of free edge with working parapets, sunk into the extrados and
/// carried `past_m` behind the springing planes. `normal`, `extrados` and `depth_m` per form
/// vertex. Its outer face is 1 mm inside the edge at least, so that it is not in the shell's.
[[nodiscard]] std::vector<Solid> upstands(const Brief& brief, const Form& form,
                                          const std::vector<Plane>& springing,
                                          const std::vector<Vec3>& normal,
                                          const std::vector<Vec3>& extrados,
                                          const std::vector<double>& depth_m, double past_m);

}  // namespace skewback
