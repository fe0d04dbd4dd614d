#pragma once
// The edge of a sheet under the soffit. Private to the folder.

#include "centring/polyline.hpp"
#include "centring/soffits.hpp"

namespace skewback {

/// Highest edge, between two x of a line, of an upright sheet that cuts into no block anywhere in
/// its thickness: the lower envelope of the soffit facets within it, lowered by `lower` square to
/// each. Straight over gaps; level beyond the soffit. Empty if there is no soffit.
[[nodiscard]] Edge top_edge(const Soffits& all, const PlanLine& line, double from, double to,
                            double thickness, double lower);

}  // namespace skewback
