#pragma once
// Where a block is seen in place: three places on its back. Private to survey/.

#include <optional>

#include "assembly/assembly.hpp"

namespace skewback {

/// Square to the flow, upwards or (where the flow is upright) outwards.
[[nodiscard]] Vec3 back_normal(const Assembly& assembly, int block);

/// On the surface, at least 30 mm from its edges (less on a block too small for that), as far apart
/// as they go: a pair, and the one farthest from their line. None where the back has no room.
[[nodiscard]] std::optional<std::array<Vec3, 3>> places_on_back(const Solid& solid,
                                                                const Vec3& normal);

}  // namespace skewback
