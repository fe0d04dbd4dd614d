#pragma once
// Round rods with threaded ends: what a thread and a shank resist, and which size is next.

#include <optional>
#include <string>
#include <vector>

namespace skewback {

struct Thread {  // coarse series
  std::string name;
  double diameter_m = 0, pitch_m = 0;
  /// pi/4 (d - 0.9382 P)^2, m2 (EN ISO 898-1, nominal stress area)
  [[nodiscard]] double stress_area_m2() const;
};

/// M12 to M64.
[[nodiscard]] const std::vector<Thread>& threads();

/// k2 f_ub A_s / gamma_M2 with k2 = 0.9, N (EN 1993-1-8 Table 3.4).
[[nodiscard]] double thread_resistance(const Thread& thread, double ultimate_pa, double gamma_m2);

struct RodSteel {
  double yield_pa = 355e6;     // of the shank
  double ultimate_pa = 800e6;  // of the threaded ends
  double gamma_shank = 1.0, gamma_thread = 1.25;
};

/// The lesser of thread and shank (A f_y / gamma_M0, EN 1993-1-1 6.2.3), N.
[[nodiscard]] double rod_resistance(const Thread& thread, const RodSteel& steel);

/// First of the series that resists the force; none if the largest does not.
[[nodiscard]] std::optional<Thread> rod_thread(double force_n, const RodSteel& steel);

/// Of a diameter as in the series; none for others.
[[nodiscard]] std::optional<Thread> thread_of(double diameter_m);

}  // namespace skewback
