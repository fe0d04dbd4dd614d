#pragma once
// The cut for a brief that is being changed: by plain arithmetic where that will do.

#include "cut/cut.hpp"

namespace skewback {

/// As cut_blocks, by the same planes; divided by split_plainly, so faces may be parted into other
/// triangles and corners be off by rounding.
[[nodiscard]] Result<Cut> cut_blocks_plainly(const Brief& brief, const Body& body,
                                             const Progress& progress = {});

}  // namespace skewback
