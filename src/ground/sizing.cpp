#include "ground/sizing.hpp"

#include "base/constants.hpp"

namespace skewback {

const std::vector<double>& rod_series() {
  static const std::vector<double> series = {0.012, 0.016, 0.020, 0.024, 0.027, 0.030, 0.033, 0.036,
                                             0.039, 0.042, 0.048, 0.052, 0.056, 0.060, 0.064};
  return series;
}

double shank_resistance(double diameter_m, double yield_pa) {
  return kPi * diameter_m * diameter_m / 4 * yield_pa;
}

std::optional<double> rod_diameter(double force_n, double yield_pa) {
  for (const double d : rod_series()) {
    if (shank_resistance(d, yield_pa) >= force_n) return d;
  }
  return std::nullopt;
}

}  // namespace skewback
