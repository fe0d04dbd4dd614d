#pragma once
// A place on a block in words. Private to survey/.

#include "assembly/assembly.hpp"

namespace skewback {

/// "the bed to y2, lower right" (as seen from the block beyond), "the back, towards y2, left" (as
/// seen along the flow from its support), "the soffit", "the left side"; bridge axes, the block as
/// drawn.
[[nodiscard]] std::string where_on_block(const Assembly& assembly, int block, const Vec3& p);

}  // namespace skewback
