#include "ground/threads.hpp"

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "ground/sizing.hpp"

namespace skewback {

double Thread::stress_area_m2() const {
  const double d = diameter_m - 0.9382 * pitch_m;
  return kPi / 4 * d * d;
}

const std::vector<Thread>& threads() {
  // pitches: ISO 261, coarse, from memory; the areas they give are checked in threads_test.cpp
  static const std::vector<Thread> series = {
      {"M12", 0.012, 1.75e-3}, {"M16", 0.016, 2.0e-3}, {"M20", 0.020, 2.5e-3},
      {"M24", 0.024, 3.0e-3},  {"M27", 0.027, 3.0e-3}, {"M30", 0.030, 3.5e-3},
      {"M33", 0.033, 3.5e-3},  {"M36", 0.036, 4.0e-3}, {"M39", 0.039, 4.0e-3},
      {"M42", 0.042, 4.5e-3},  {"M45", 0.045, 4.5e-3}, {"M48", 0.048, 5.0e-3},
      {"M52", 0.052, 5.0e-3},  {"M56", 0.056, 5.5e-3}, {"M60", 0.060, 5.5e-3},
      {"M64", 0.064, 6.0e-3}};
  return series;
}

double thread_resistance(const Thread& thread, double ultimate_pa, double gamma_m2) {
  return 0.9 * ultimate_pa * thread.stress_area_m2() / gamma_m2;
}

double rod_resistance(const Thread& thread, const RodSteel& steel) {
  return std::min(thread_resistance(thread, steel.ultimate_pa, steel.gamma_thread),
                  shank_resistance(thread.diameter_m, steel.yield_pa) / steel.gamma_shank);
}

std::optional<Thread> rod_thread(double force_n, const RodSteel& steel) {
  for (const Thread& thread : threads()) {
    if (rod_resistance(thread, steel) >= force_n) return thread;
  }
  return std::nullopt;
}

std::optional<Thread> thread_of(double diameter_m) {
  for (const Thread& thread : threads()) {
    if (std::abs(thread.diameter_m - diameter_m) < 1e-6) return thread;
  }
  return std::nullopt;
}

}  // namespace skewback
