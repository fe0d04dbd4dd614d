#pragma once
// First guess of the weight on the surface, before there is a body.

#include <vector>

#include "brief/brief.hpp"
#include "form/mesh.hpp"

namespace skewback {

/// Downward load per mesh point, N: a slab of the mean depth of the section (half of it concrete
/// where it is hollow) by true area, the walkway by plan area, parapets by true length of free
/// edge.
[[nodiscard]] std::vector<double> first_weight(const Brief& brief, const FibreMesh& mesh,
                                               const std::vector<std::array<int, 3>>& triangles,
                                               const std::vector<Vec3>& points);

/// Spreads loads across the arms over about the depth of the body, which the middle surface cannot
/// tell from: (area + reach^2 * Laplacian across) density = load. The total is kept.
[[nodiscard]] std::vector<double> spread_across(const FibreMesh& mesh, double reach_m,
                                                const std::vector<double>& load);

}  // namespace skewback
