#pragma once
// Legs of a centring lean on each other in the middle: what lies between the end of a rib and the
// face of the other leg's rib that it stops short of. Theory: docs/theory/centring.md. Private to
// the folder.

#include <string>
#include <vector>

#include "centring/judge_parts.hpp"

namespace skewback {

/// One packing at each end of a leg's ribs that stops short of another leg's rib. A leg's push goes
/// in equal parts to all at its ends and against its ribs; of the two legs at each the greater part
/// counts. High enough across the grain; checks of them go to `out`. A leg that pushes and has none
/// is named in `remarks`.
[[nodiscard]] std::vector<LegPacking> pack_legs(const Brief& brief, const Centring& centring,
                                                const std::vector<LegPush>& pushes, Judged& out,
                                                std::vector<std::string>& remarks);

}  // namespace skewback
