#pragma once
// Normals turned a little where a shell laid off along them would cross itself.

#include <vector>

#include "form/form.hpp"

namespace skewback {

/// Normals of free vertices within `reach_m` of one of `places` (W, m), averaged with those beside
/// them `passes` times; the others stay. Unit vectors, one a vertex, in and out.
void ease_normals(const Form& form, const std::vector<Vec3>& places, double reach_m, int passes,
                  std::vector<Vec3>& normal);

/// Largest angle between two fields of unit vectors, degrees.
[[nodiscard]] double largest_turn_deg(const std::vector<Vec3>& a, const std::vector<Vec3>& b);

}  // namespace skewback
