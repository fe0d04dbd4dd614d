#pragma once
// The bridge with its feet free to slide and turn in plan, held by the rods alone. Private to
// ground/.

#include "brief/brief.hpp"
#include "ground/footings.hpp"
#include "stand/stand.hpp"

namespace skewback {

struct TiedBridge {
  Assembly assembly;     // ground blocks free, rods as joints that pull
  StandOptions options;  // props that keep the footings level
};

/// Rods lie at the springing level of each footing here: their lever below it is not part of this.
/// `on_ground`: shear up to ten times the weight at the middle of each springing too, without yaw.
[[nodiscard]] TiedBridge tie(const Brief& brief, const Assembly& assembly,
                             const std::vector<Rod>& rods, bool on_ground);

}  // namespace skewback
