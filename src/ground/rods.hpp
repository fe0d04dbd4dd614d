#pragma once
// Ties as bundles of parallel rods between springing middles. Private to ground/.

#include <vector>

#include "brief/brief.hpp"
#include "ground/footings.hpp"
#include "ground/ground.hpp"
#include "ground/threads.hpp"

namespace skewback {

/// Rod::tie counts `ties`; rods are spread square to the line between the middles.
[[nodiscard]] std::vector<Rod> rods_of(const std::vector<Support>& supports,
                                       const std::vector<Tie>& ties);

/// What each footing must give to the bridge in plan.
[[nodiscard]] std::vector<Footing> plan_needs(const std::vector<SupportReaction>& supports);

/// `balance` for these reactions. What the rods, and ground shear beside them, lack is left to
/// friction under the footings while it is next to nothing: sideways, and in yaw on a lever of 1 m,
/// no more than kTrifle of the footing's vertical reaction. It is then `balanced`, with `missing`
/// as it was.
[[nodiscard]] FootingBalance hold_in_plan(const std::vector<SupportReaction>& supports,
                                          const std::vector<Rod>& rods, double shear_max);
inline constexpr double kTrifle = 0.005;

[[nodiscard]] RodSteel rod_steel(const Brief& brief);

inline constexpr double kSteelDensity = 7850;     // kg/m3
inline constexpr double kSteelStiffness = 210e9;  // Pa
inline constexpr double kSteelExpansion = 12e-6;  // per K, EN 1991-1-5, from memory

}  // namespace skewback
