#pragma once
// Private to print/: what the nozzle, the tool and the robot are held to.

#include "print/clearance.hpp"
#include "print/poses.hpp"
#include "print/reach.hpp"

namespace skewback {

/// "tilt", "tilt rate", "spin rate", "nozzle speed", "turns" (of a nozzle that turns with the path,
/// where print.turns_max is not 0), "flow", "join", "clearance", "reach", "reach,
/// nearest", "table". The rates hold by slowing down, so what they cost shows in "nozzle speed".
[[nodiscard]] std::vector<PrintCheck> pose_checks(const PrintRequest& cell, const PoseRun& run,
                                                  const ToolClearance& clearance,
                                                  const ReachFinding& reach);

}  // namespace skewback
