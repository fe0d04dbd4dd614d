// Blocks on pallets, in the order in which they are needed.
#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "erect/shelves.hpp"
#include "erect/transport_parts.hpp"

namespace skewback {
namespace {

/// At `at` on the pallet, turned a quarter or not.
BeddedBlock put(const Bedding& bedding, const OnShelf& place, const Vec2& middle) {
  BeddedBlock out;
  out.block = bedding.block;
  out.id = bedding.id;
  out.checks = bedding.checks;
  out.tips_at_g = bedding.tips_at_g;
  out.words = bedding.words;
  out.spare = bedding.spare;
  Mat3 turn = Mat3::Identity();
  if (place.turned) turn << 0, -1, 0, 1, 0, 0, 0, 0, 1;
  const Vec3 to(place.at.x() - middle.x(), place.at.y() - middle.y(), kBearer_m);
  out.to_pallet.R = turn * bedding.to_bearers.R;
  out.to_pallet.t = turn * bedding.to_bearers.t + to;
  for (const double x : bedding.bearer_x)
    out.bearers.push_back((turn * Vec3(x, 0, 0) + to).head<2>());
  out.bearer_along_rad = place.turned ? kPi : kPi / 2;
  return out;
}

ShelfItem footprint(const Bedding& bedding) { return {bedding.size.x(), bedding.size.y()}; }

double tallest(const std::vector<const Bedding*>& on) {
  double most = 0;
  for (const Bedding* b : on) most = std::max(most, b->size.z());
  return most;
}

std::optional<std::vector<OnShelf>> lay(const TransportRequest& request,
                                        const std::vector<const Bedding*>& on) {
  double mass = 0;
  std::vector<ShelfItem> items;
  for (const Bedding* b : on) {
    mass += b->mass_kg;
    items.push_back(footprint(*b));
  }
  if (mass > request.pallet_load_kg) return std::nullopt;
  return lay_in_rows(items, request.pallet_length_m, request.pallet_width_m, request.pallet_gap_m);
}

Pallet begun(const TransportRequest& request, const std::vector<const Bedding*>& on) {
  Pallet pallet;
  pallet.mass_kg = request.pallet_mass_kg;
  for (const Bedding* b : on) pallet.mass_kg += b->mass_kg;
  return pallet;
}

Pallet on_pallet(const TransportRequest& request, const std::vector<const Bedding*>& on,
                 const std::vector<OnShelf>& laid) {
  Pallet pallet = begun(request, on);
  pallet.length_m = request.pallet_length_m;
  pallet.width_m = request.pallet_width_m;
  pallet.height_m = kPalletHeight_m + kBearer_m + tallest(on);
  double used = 0;  // length taken, so that it lies in the middle
  for (std::size_t i = 0; i < on.size(); ++i)
    used =
        std::max(used, laid[i].at.x() + (laid[i].turned ? on[i]->size.y() : on[i]->size.x()) / 2);
  for (std::size_t i = 0; i < on.size(); ++i)
    pallet.blocks.push_back(put(*on[i], laid[i], {used / 2, 0}));
  return pallet;
}

Pallet by_itself(const TransportRequest& request, const Bedding& bedding) {
  Pallet pallet = begun(request, {&bedding});
  pallet.own_bearers = true;
  pallet.length_m = bedding.size.x();
  pallet.width_m = bedding.size.y();
  pallet.height_m = kBearer_m + bedding.size.z();
  pallet.blocks.push_back(put(bedding, {}, Vec2::Zero()));
  return pallet;
}

}  // namespace

std::vector<Pallet> stack_pallets(const TransportRequest& request,
                                  const std::vector<Bedding>& beddings) {
  std::vector<Pallet> pallets;
  std::vector<const Bedding*> open;
  std::vector<OnShelf> laid;
  const auto close = [&] {
    if (!open.empty()) pallets.push_back(on_pallet(request, open, laid));
    open.clear();
  };
  for (const Bedding& bedding : beddings) {
    if (!lay(request, {&bedding})) {  // too long or too heavy for any
      close();
      pallets.push_back(by_itself(request, bedding));
      continue;
    }
    open.push_back(&bedding);
    if (auto more = lay(request, open)) {
      laid = std::move(*more);
      continue;
    }
    open.pop_back();
    std::vector<const Bedding*> next{&bedding};
    if (bedding.spare && lay(request, {open.back(), &bedding})) {  // it takes its block with it
      next.insert(next.begin(), open.back());
      open.pop_back();
      if (!open.empty()) laid = *lay(request, open);
    }
    close();
    open = std::move(next);
    laid = *lay(request, open);
  }
  close();
  for (std::size_t i = 0; i < pallets.size(); ++i) pallets[i].id = "P" + std::to_string(i + 1);
  return pallets;
}

}  // namespace skewback
