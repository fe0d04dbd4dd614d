#pragma once
// The bridge in outline, for a phone to draw: from above, and square to each arm. Pure.

#include <nlohmann/json.hpp>

#include "assembly/assembly.hpp"
#include "daybook/plan.hpp"

namespace skewback::lodge {

/// {"plan": [B], "sides": [{"title", "blocks": [B], farthest first}]}, B = {"id", "ground",
/// "rings":
/// [[[x, y]…]…]}; metres to the millimetre, outlines true to `true_to_m`. A bridge of two supports
/// has one side, of all its blocks; otherwise one for each arm, from its springing on the left,
/// with the keys.
[[nodiscard]] nlohmann::ordered_json picture_json(const Assembly& assembly,
                                                  double true_to_m = 0.005);

/// The plan's blocks and no others, each of the plan's mass, with its centre where the plan has it.
[[nodiscard]] bool same_blocks(const Assembly& assembly, const DayPlan& plan);

}  // namespace skewback::lodge
