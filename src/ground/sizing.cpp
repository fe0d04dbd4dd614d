#include "ground/sizing.hpp"

#include "base/constants.hpp"

namespace skewback {

double shank_resistance(double diameter_m, double yield_pa) {
  return kPi * diameter_m * diameter_m / 4 * yield_pa;
}

}  // namespace skewback
