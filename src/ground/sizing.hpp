#pragma once
// Round rods in tension. Private to ground/.

namespace skewback {

/// A f_y, N; divided by gamma_M0 it is the resistance (EN 1993-1-1 6.2.3, from memory). No thread.
[[nodiscard]] double shank_resistance(double diameter_m, double yield_pa);

}  // namespace skewback
