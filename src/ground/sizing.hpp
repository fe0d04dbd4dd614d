#pragma once
// Round steel rods in tension. Private to ground/.

#include <optional>
#include <vector>

namespace skewback {

/// Diameters on offer, m: 12 16 20 24 27 30 33 36 39 42 48 52 56 60 64 mm.
[[nodiscard]] const std::vector<double>& rod_series();

/// A f_y / gamma_M0 with gamma_M0 = 1.0, N (EN 1993-1-1 6.2.3, from memory). The shank; no thread.
[[nodiscard]] double shank_resistance(double diameter_m, double yield_pa);

/// First of the series that resists the force; none if the largest does not.
[[nodiscard]] std::optional<double> rod_diameter(double force_n, double yield_pa);

}  // namespace skewback
