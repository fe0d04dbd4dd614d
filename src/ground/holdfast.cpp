#include "ground/holdfast.hpp"

#include <cmath>

#include "base/constants.hpp"
#include "ground/rods.hpp"

namespace skewback {

std::optional<double> deadman_height(const Soil& soil, double pull_n, double length_m) {
  constexpr double kReserve = 2;
  if (soil.kind == SoilKind::kDrained && soil.phi_rad > 0) {
    const double kp = std::pow(std::tan(kPi / 4 + soil.phi_rad / 2), 2);
    return std::sqrt(2 * kReserve * pull_n / ((kp - 1 / kp) * soil.weight_n_per_m3 * length_m));
  }
  if (soil.kind == SoilKind::kUndrained && soil.undrained_pa > 0)
    return kReserve * pull_n / (4 * soil.undrained_pa * length_m);
  return std::nullopt;
}

PilePair raked_pair(double vertical_n, double thrust_n, double slope) {
  const double length = std::hypot(1.0, slope);  // per unit of fall
  const double down = vertical_n / 2 * length, sideways = thrust_n / (2 * slope) * length;
  return {down + sideways, sideways - down};
}

std::optional<Holdfast> holdfast(const Brief& brief, const FootingReport& footing) {
  const FootingCase* worst = nullptr;
  for (const FootingCase& c : footing.cases) {
    if (worst == nullptr || c.horizontal_n.norm() > worst->horizontal_n.norm()) worst = &c;
  }
  if (worst == nullptr || worst->horizontal_n.norm() <= kTrifle * worst->vertical_n)
    return std::nullopt;
  Holdfast out;
  out.thrust_n = worst->horizontal_n.norm();
  out.deadman_m = deadman_height(brief.soil, out.thrust_n, footing.size.length_m);
  const PilePair piles = raked_pair(worst->vertical_n, out.thrust_n, out.pile_slope);
  out.pile_push_n = piles.push_n;
  out.pile_pull_n = piles.pull_n;
  return out;
}

}  // namespace skewback
