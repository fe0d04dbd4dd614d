#pragma once
// Private to print/: what the fresh checks need of a layer, out of its section.

#include "geometry/geometry.hpp"
#include "print/fresh.hpp"

namespace skewback {

/// `frame`: of the layer, in the frame of the table (z up); section in its x and y. `height_m` mean
/// over the section, `volume_m3` of the layer. A section without area gives one of no area.
[[nodiscard]] FreshLayer fresh_layer(const Regions& section, const Frame& frame, double height_m,
                                     double volume_m3, double time_s);

/// Walls of a section: beside each side of each hole, as wide as the side and half a wall more at
/// each end, as thin as it is anywhere along the side; and where an outline faces itself across
/// solid, as an upstand does, a wall with a free edge. Sides are stretches that turn by less than
/// 30 degrees in all: bowed ones are taken as flat. Only what is wider than thick, and of free
/// edges only what is wider than the least bead: the corner of a facet is no wall.
[[nodiscard]] std::vector<FreshWall> fresh_walls(const Regions& section, double bead_min_m);

}  // namespace skewback
