#pragma once
// A count of all blocks asked for where arms meet: the length of the blocks that gives it.

#include <functional>

#include "cut/cut.hpp"

namespace skewback {

/// True where `blocks.count` is of all blocks, not of the voussoirs of one arch.
[[nodiscard]] bool counts_all_blocks(const Brief& brief);

/// Cuts with one length of blocks after another until the count is met within a tenth; else the
/// nearest found, with a remark. `cut` cuts a brief that gives a length. Faults: of the cuts, if
/// none was sound.
[[nodiscard]] Result<Cut> cut_to_count(const Brief& brief, const Body& body,
                                       const std::function<Result<Cut>(const Brief&)>& cut);

}  // namespace skewback
