#pragma once
// Legs of a centring lean on each other in the middle: what lies between the end of a rib and the
// face of the other leg's rib that it stops short of. Theory: docs/theory/centring.md. Private to
// the folder.

#include <string>
#include <vector>

#include "centring/judge_parts.hpp"

namespace skewback {

/// One packing at each end of a leg's ribs that stops short of another leg's rib, for an equal part
/// of the leg's push; high enough across the grain. Checks of them go to `out`. A leg that pushes
/// and has no such end, nor any against it, is named in `remarks`.
[[nodiscard]] std::vector<LegPacking> pack_legs(const Brief& brief, const Centring& centring,
                                                const std::vector<LegPush>& pushes, Judged& out,
                                                std::vector<std::string>& remarks);

}  // namespace skewback
