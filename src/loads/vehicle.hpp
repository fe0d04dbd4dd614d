#pragma once
// Where the service vehicle stands on the walk. Private to loads/.

#include <string>
#include <vector>

#include "assembly/assembly.hpp"
#include "brief/brief.hpp"

namespace skewback {

struct VehicleStop {
  std::string id;                // "vehicle-2-5-back": walking line, stop, turned round
  std::vector<LiveForce> down;   // its whole weight, wheel by wheel
  std::vector<LiveForce> along;  // 0.6 of that towards the line's end, at the walk
};
struct VehicleStops {
  std::vector<VehicleStop> stops;
  std::vector<std::string> left_out;  // a sentence for each line with stops it does not fit on
};

/// Five along each walking line, both axles on it and each both ways round; where the line bends
/// the vehicle and its push stand along the chord between its axles. At the first and the last one
/// the axle next to the line's end is as near to it as both of its wheels are wholly on the walk:
/// half a wheel where the walk ends square. A wheel of which a tenth or more is off the walk leaves
/// the stop out.
[[nodiscard]] VehicleStops vehicle_stops(const Brief& brief, const Assembly& assembly,
                                         const std::vector<Regions>& outlines,
                                         const Regions& surface, double deck_m);

}  // namespace skewback
