#pragma once
// In which order blocks go up, and seats come down. Private to erect/.

#include <string>
#include <vector>

#include "erect/erect.hpp"

namespace skewback {

/// Blocks that are not fixed. "together": courses of all arms by their distance from the springing
/// along the flow (phi), so that the fronts stay level; "leg by leg": arm after arm. Keys last.
[[nodiscard]] std::vector<int> order_of_placing(const Assembly& assembly, const std::string& way);

/// Blocks whose seats are lowered at one time, from the crown outwards: keys, then courses of every
/// arm that are as far from their springing.
[[nodiscard]] std::vector<std::vector<int>> groups_of_lowering(const Assembly& assembly);

}  // namespace skewback
