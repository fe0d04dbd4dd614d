#pragma once

#include <vector>

#include "geometry/geometry.hpp"

namespace skewback {

/// Natural cubic spline through the points, parametrised by chord length (Ahlberg, Nilson and Walsh
/// 1967), sampled so that no step of the parameter exceeds `step_m`; the points themselves are
/// among the samples. Two points give the straight line between them, unsampled. Requires at least
/// two points and no two in a row equal.
[[nodiscard]] std::vector<Vec2> natural_spline(const std::vector<Vec2>& points, double step_m);

}  // namespace skewback
