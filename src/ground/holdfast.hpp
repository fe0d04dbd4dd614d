#pragma once
// What holds thrust that ties leave: a buried block (deadman) or a pair of raked piles.

#include <optional>

#include "ground/ground_parts.hpp"

namespace skewback {

/// Height of a block buried to ground level, `length_m` across the pull, whose passive less active
/// pressure (Rankine 1857: K_p = tan^2(45 + phi/2), K_a = 1/K_p) is twice the pull; the factor 2 is
/// common practice. Undrained: 4 c_u on each metre of height (2 c_u either side). None where the
/// soil is unknown or has neither.
[[nodiscard]] std::optional<double> deadman_height(const Soil& soil, double pull_n,
                                                   double length_m);

struct PilePair {
  double push_n = 0, pull_n = 0;  // along the piles; pull > 0 is tension
};
/// Two piles in the plane of the thrust, raked either way by `slope` (run over fall), hinged at
/// their heads: statics alone.
[[nodiscard]] PilePair raked_pair(double vertical_n, double thrust_n, double slope);

/// For the case with the most horizontal force left; none where that is a trifle (rods.hpp).
[[nodiscard]] std::optional<Holdfast> holdfast(const Brief& brief, const FootingReport& footing);

}  // namespace skewback
