#pragma once
// Wind on blocks and parapets. Private to loads/.

#include "assembly/assembly.hpp"
#include "brief/brief.hpp"

namespace skewback {

struct WindPressure {
  double peak_pa = 0;   // velocity pressure at the height of the deck
  double height_m = 0;  // it is taken at
};
[[nodiscard]] WindPressure wind_pressure(const Brief& brief);

/// Blowing level along `way` (unit): on the silhouette of the bridge, shared among the blocks by
/// their own, at their centroids; on 0.3 m of every carried parapet across it, at half the
/// parapet's height over the walk; and on the side it meets, on what is between blocks and walk, as
/// if that were closed. `deck_m`: as load_cases.
[[nodiscard]] std::vector<LiveForce> wind_across(const Brief& brief, const Assembly& assembly,
                                                 const std::vector<Regions>& outlines,
                                                 const Vec2& way, double deck_m);

/// A pressure along `way` on the silhouette of the blocks that are there (`present`, per block;
/// empty: all) and not fixed, shared among them by their own, at their centroids.
[[nodiscard]] std::vector<LiveForce> pressure_on_sides(const Assembly& assembly,
                                                       const std::vector<char>& present,
                                                       double pressure_pa, const Vec2& way);

/// Lift (sign +1) or push down (-1) on the whole plan.
[[nodiscard]] std::vector<LiveForce> wind_lift(const Brief& brief, const Assembly& assembly,
                                               const std::vector<Regions>& outlines, double sign);

}  // namespace skewback
