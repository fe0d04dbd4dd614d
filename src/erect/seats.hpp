#pragma once
// Where the centring carries a block. Private to erect/.

#include <vector>

#include "stand/stand.hpp"

namespace skewback {

/// Four seats near the corners of the block's soffit, each pushing square to the soffit there. The
/// soffit is what looks down and can be seen from below: no bed, no wall of a void. Empty if there
/// is none.
[[nodiscard]] std::vector<Prop> seats_of(const Assembly& assembly, int block, double friction);

}  // namespace skewback
