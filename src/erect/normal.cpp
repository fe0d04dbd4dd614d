#include "erect/normal.hpp"

#include <cmath>

#include "base/constants.hpp"

namespace skewback {
namespace {

/// For the lower half, where Phi keeps its relative precision.
double lower_point(double chance) {
  const double t = std::sqrt(-2 * std::log(chance));
  double x = -(t - (2.515517 + t * (0.802853 + t * 0.010328)) /
                       (1 + t * (1.432788 + t * (0.189269 + t * 0.001308))));
  for (int step = 0; step < 3; ++step) {
    const double density = std::exp(-x * x / 2) / std::sqrt(2 * kPi);
    if (!(density > 0)) break;
    const double newton = (normal_chance(x) - chance) / density;
    x -= newton / (1 + x * newton / 2);
  }
  return x;
}

}  // namespace

double normal_chance(double x) { return 0.5 * std::erfc(-x / std::sqrt(2.0)); }

double normal_point(double chance) {
  if (!(chance > 0)) return -HUGE_VAL;
  if (!(chance < 1)) return HUGE_VAL;
  return chance <= 0.5 ? lower_point(chance) : -lower_point(1 - chance);
}

}  // namespace skewback
