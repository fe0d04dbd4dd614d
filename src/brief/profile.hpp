#pragma once

#include <optional>

#include "brief/brief.hpp"

namespace skewback {

/// Height of the walking surface over the point of its profile nearest in plan; none without a
/// profile.
[[nodiscard]] std::optional<double> walking_height_m(const Walkway& walkway, const Vec2& p);

/// Weight of the fill under a square metre of walking surface, N/m2, where the extrados is at
/// `extrados_z`; 0 without fill or where the surface is lower.
[[nodiscard]] double fill_pressure_pa(const Walkway& walkway, const Vec2& p, double extrados_z);

}  // namespace skewback
