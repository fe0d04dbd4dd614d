#include "assembly/pad_rules.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {
namespace {

/// What of the modulus is the rubber's bulging.
double without_bulk(double modulus_pa) {
  return modulus_pa * kRubberBulk_pa / (kRubberBulk_pa - modulus_pa);
}

}  // namespace

double pad_shape(const Regions& contact, double thickness_m) {
  double rim = 0;
  const auto add = [&](const Polygon& p) {
    for (std::size_t i = 0; i < p.size(); ++i) rim += (p[(i + 1) % p.size()] - p[i]).norm();
  };
  for (const Region& r : contact) {
    add(r.outer);
    for (const Polygon& hole : r.holes) add(hole);
  }
  return area(contact) / std::max(rim * thickness_m, 1e-12);
}

double pad_modulus_pa(double G, double S) {
  const double bulges = 3 * G * (1 + 2 * S * S);
  return bulges * kRubberBulk_pa / (bulges + kRubberBulk_pa);
}

double pad_shape_of(double modulus_pa, double G) {
  if (modulus_pa >= kRubberBulk_pa) return HUGE_VAL;
  return std::sqrt(std::max(0.0, (without_bulk(modulus_pa) / (3 * G) - 1) / 2));
}

double pad_shear_modulus_of(double modulus_pa, double S) {
  return without_bulk(modulus_pa) / (3 * (1 + 2 * S * S));
}

double pad_stress_limit_pa(double G, double S) { return std::min(1.4 * G * S, 7 * G); }

double pad_friction(double pressure_pa) {
  constexpr double kMost = 0.5;
  return pressure_pa > 0 ? std::min(kMost, 0.1 + 0.9e6 / pressure_pa) : kMost;
}

}  // namespace skewback
