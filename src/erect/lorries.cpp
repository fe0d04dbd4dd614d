// Pallets on lorries: what is needed first nearest to the tail.
#include <algorithm>
#include <cmath>
#include <map>

#include "base/constants.hpp"
#include "erect/shelves.hpp"
#include "erect/transport_parts.hpp"

namespace skewback {
namespace {

constexpr double kAhead = 1.25, kAside = 1.1;  // f_s, EN 12195-1 (from memory)

/// Laid from the headboard, last needed first; the answer in the order needed.
std::optional<std::vector<OnShelf>> lay(const TransportRequest& request,
                                        const std::vector<Pallet>& pallets, std::size_t from,
                                        std::size_t to) {
  double mass = 0;
  std::vector<ShelfItem> items;
  for (std::size_t i = to; i-- > from;) {
    mass += pallets[i].mass_kg;
    items.push_back({pallets[i].length_m, pallets[i].width_m});
  }
  if (mass > request.lorry_load_kg) return std::nullopt;
  auto laid =
      lay_in_rows(items, request.lorry_length_m, request.lorry_width_m, request.pallet_gap_m);
  if (laid) std::ranges::reverse(*laid);
  return laid;
}

/// Moved back from the headboard, all alike, until its centre of gravity lies over the middle of
/// the bed, or its tail at the end of it.
void centre_on_bed(const TransportRequest& request, const std::vector<Pallet>& pallets,
                   LorryLoad& lorry) {
  double tail_m = 0;
  for (const LoadedPallet& on : lorry.pallets) {
    const Pallet& p = pallets[static_cast<std::size_t>(on.pallet)];
    tail_m = std::max(tail_m, on.at.x() + (on.turned ? p.width_m : p.length_m) / 2);
  }
  const double back_m = std::max(0.0, std::min(request.lorry_length_m / 2 - lorry.centre.x(),
                                               request.lorry_length_m - tail_m));
  for (LoadedPallet& on : lorry.pallets) on.at.x() += back_m;
  lorry.centre.x() += back_m;
}

/// A spare is at the head of this pallet and its block on one before: they are not to be parted.
bool belongs_with_the_one_before(const std::vector<Pallet>& pallets, std::size_t i) {
  return i < pallets.size() && pallets[i].blocks.front().spare;
}

int straps_of(const TransportRequest& request, double mass_kg) {
  const auto straps = [&](double c_xy, double safety) {
    return straps_needed(mass_kg, c_xy, 1, request.bed_friction, request.strap_angle_rad,
                         request.strap_force_n, safety);
  };
  return std::max({1, straps(request.forward, kAhead), straps(request.rearward, kAside),
                   straps(request.sideways, kAside)});
}

LorryLoad loaded(const TransportRequest& request, const std::vector<Pallet>& pallets,
                 std::size_t from, const std::vector<OnShelf>& laid) {
  LorryLoad lorry;
  std::map<int, double> rows;
  for (std::size_t k = 0; k < laid.size(); ++k) {
    const Pallet& pallet = pallets[from + k];
    lorry.pallets.push_back({static_cast<int>(from + k), laid[k].at, laid[k].turned, laid[k].row});
    lorry.mass_kg += pallet.mass_kg;
    lorry.centre += pallet.mass_kg * laid[k].at;
    rows[laid[k].row] += pallet.mass_kg;
  }
  lorry.centre /= lorry.mass_kg;
  for (const auto& [row, mass] : rows) {
    lorry.row_straps.push_back(straps_of(request, mass));
    lorry.straps += lorry.row_straps.back();
  }
  centre_on_bed(request, pallets, lorry);
  return lorry;
}

}  // namespace

int straps_needed(double mass_kg, double c_xy, double c_z, double mu, double alpha_rad,
                  double force_n, double safety) {
  const double missing = (c_xy - mu * c_z) * mass_kg * kGravity * safety;
  if (missing <= 0) return 0;
  return static_cast<int>(std::ceil(missing / (2 * mu * std::sin(alpha_rad) * force_n) - 1e-9));
}

std::vector<LorryLoad> load_lorries(const TransportRequest& request, Transport& transport) {
  const std::vector<Pallet>& pallets = transport.pallets;
  std::vector<LorryLoad> lorries;
  for (std::size_t from = 0; from < pallets.size();) {
    std::size_t to = from + 1;
    auto laid = lay(request, pallets, from, to);
    if (!laid) {
      const Pallet& p = pallets[from];
      transport.not_on_lorry.push_back(p.id);
      transport.remarks.push_back(
          p.id + " (" + p.blocks.front().id +
          ") does not go on the lorry of the brief, by length, width or mass: it is "
          "shown on one of its own.");
      laid = {{Vec2(p.length_m / 2, 0), false, 0}};
    } else {
      while (to < pallets.size()) {
        auto more = lay(request, pallets, from, to + 1);
        if (!more) break;
        laid = std::move(more);
        ++to;
      }
      std::size_t whole = to;
      while (whole > from && belongs_with_the_one_before(pallets, whole)) --whole;
      if (whole > from && whole < to) {
        laid = lay(request, pallets, from, whole);
        to = whole;
      }
    }
    lorries.push_back(loaded(request, pallets, from, *laid));
    lorries.back().id = "L" + std::to_string(lorries.size());
    from = to;
  }
  return lorries;
}

}  // namespace skewback
