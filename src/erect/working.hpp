#pragma once
// A stage under the loads of building. Private to erect/.

#include "erect/erect.hpp"
#include "loads/building.hpp"

namespace skewback {

/// `weight`: the state of the pads under the weight of this stage, from which they go on; null:
/// none was found, view 1 alone is asked. None where there are no loads.
[[nodiscard]] std::optional<WorkingLoads> under_building_loads(const Assembly& assembly,
                                                               const StandOptions& options,
                                                               const std::vector<BuildingCase>& on,
                                                               const PadHistory* weight);

}  // namespace skewback
