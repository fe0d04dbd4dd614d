#include "centring/leg_packings.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "centring/polyline.hpp"

namespace skewback {
namespace {

constexpr double kHeads = 0.2;    // least cosine, of a rib's way to the square of the face it meets
constexpr double kUsed = 0.9;     // of what it carries, that its height is found for
constexpr double kHigh_m = 0.1;   // at least: smaller ones split where they are nailed (ours)
constexpr double kStep_m = 0.01;  // heights

std::size_t at(int i) { return static_cast<std::size_t>(i); }

bool in(const std::vector<int>& ribs, std::size_t r) {
  return std::ranges::find(ribs, static_cast<int>(r)) != ribs.end();
}

struct End {
  const Rib& rib;
  bool last;
  [[nodiscard]] double x() const { return last ? rib.top.back().x() : rib.top.front().x(); }
  [[nodiscard]] Vec3 way() const { return last ? rib.place.x : Vec3(-rib.place.x); }
};

/// Along the rib, from each side of its end to the other's face; none where it does not head there.
std::optional<LegPacking> between_them(const End& end, const Rib& other, double sheet_m) {
  const Vec3 tip = end.rib.place.to_world(Vec2(end.x(), 0));
  const Vec3 local = other.place.to_local(tip), way = end.way();
  const double off = std::abs(local.z());
  const double heads = way.dot(other.place.z) * (local.z() > 0 ? -1 : 1);
  if (off >= kRibsMeet || heads < kHeads) return std::nullopt;
  const double skew = sheet_m / 2 * std::abs(end.rib.place.z.dot(other.place.z));
  LegPacking out;
  out.rib = end.rib.id;
  out.other = other.id;
  out.short_m = std::max(0.0, (off - sheet_m / 2 - skew) / heads);
  out.long_m = std::max(0.0, (off - sheet_m / 2 + skew) / heads);
  const double gap = (out.short_m + out.long_m) / 2;
  const double there = local.x() + gap * way.dot(other.place.x);
  if (there < other.top.front().x() || there > other.top.back().x()) return std::nullopt;
  const double base = end.rib.place.origin.z(), its = other.place.origin.z();
  const double low =
      std::max(base + height(end.rib.bottom, end.x()), its + height(other.bottom, there));
  const double high = std::min(base + height(end.rib.top, end.x()), its + height(other.top, there));
  if (high <= low) return std::nullopt;
  out.room_m = high - low;
  out.from = tip;
  out.from.z() = (low + high) / 2;
  out.to = out.from + gap * way;
  return out;
}

std::vector<LegPacking> at_ends_of(const Centring& centring, const LegPush& leg, double sheet_m) {
  std::vector<LegPacking> out;
  for (const int r : leg.ribs) {
    const Rib& rib = centring.ribs[at(r)];
    if (rib.is_cross || rib.top.empty() || rib.bottom.empty()) continue;
    for (const bool last : {false, true}) {
      std::optional<LegPacking> nearest;
      for (std::size_t o = 0; o < centring.ribs.size(); ++o) {
        const Rib& other = centring.ribs[o];
        if (in(leg.ribs, o) || other.is_cross || other.top.empty() || other.bottom.empty())
          continue;
        const auto found = between_them({rib, last}, other, sheet_m);
        if (found && (!nearest || found->long_m < nearest->long_m)) nearest = found;
      }
      if (nearest) out.push_back(*nearest);
    }
  }
  return out;
}

void size_it(const Brief& brief, LegPacking& packing, Judged& out) {
  const double sheet_m = brief.centring.sheet_thickness_m;
  const double per_m = design_pa(brief, brief.centring.bearing_strength_pa) * sheet_m;
  const double asks = packing.force_n / (kUsed * per_m);
  packing.width_m = brief.centring.post_m;
  packing.height_m =
      std::min(packing.room_m, std::max(kHigh_m, kStep_m * std::ceil(asks / kStep_m - 1e-9)));
  out.worst.offer(check_of(
      "packing between legs", packing.force_n, per_m * packing.height_m, "N",
      packing.id + ", " + packing.rib + " against " + packing.other, packing.stage,
      "k_mod f_c,90 / gamma_M on the sheet's thickness by its height (EN "
      "1995-1-1, 6.1.5, k_c,90 1); a leg's push in equal parts on all that lie at it (ours)"));
}

/// At an end of its ribs, or against one of them.
bool touches(const Centring& centring, const LegPush& leg, const LegPacking& packing) {
  return std::ranges::any_of(leg.ribs, [&](int r) {
    const std::string& id = centring.ribs[at(r)].id;
    return id == packing.rib || id == packing.other;
  });
}

std::string leg_name(const Centring& centring, const LegPush& leg) {
  const std::string first = centring.ribs[at(leg.ribs.front())].id;
  return leg.ribs.size() == 1 ? "rib " + first
                              : "ribs " + first + " to " + centring.ribs[at(leg.ribs.back())].id;
}

}  // namespace

std::vector<LegPacking> pack_legs(const Brief& brief, const Centring& centring,
                                  const std::vector<LegPush>& pushes, Judged& out,
                                  std::vector<std::string>& remarks) {
  std::vector<LegPacking> all;
  for (const LegPush& leg : pushes)
    for (LegPacking& packing : at_ends_of(centring, leg, brief.centring.sheet_thickness_m)) {
      packing.id = "K" + std::to_string(all.size() + 1);
      all.push_back(std::move(packing));
    }
  for (const LegPush& leg : pushes) {
    const auto share = std::ranges::count_if(
        all, [&](const LegPacking& packing) { return touches(centring, leg, packing); });
    for (LegPacking& packing : all) {
      if (!touches(centring, leg, packing)) continue;
      const double force_n = leg.n / static_cast<double>(share);
      if (force_n > packing.force_n) packing.force_n = force_n, packing.stage = leg.stage;
    }
    if (share > 0) continue;
    remarks.push_back("The leg of " + leg_name(centring, leg) + " pushes the others by up to " +
                      kilonewtons_of(leg.n) +
                      " in the middle and no end of its ribs heads for the face of another leg's "
                      "rib within " +
                      millimetres_of(kRibsMeet) + ": how it bears on them is not drawn.");
  }
  for (LegPacking& packing : all) size_it(brief, packing, out);
  if (!all.empty())
    remarks.push_back("Packings between legs: " + all.front().id +
                      (all.size() > 1 ? " to " + all.back().id : "") +
                      ", each at the end of a rib, in the list of fixings and on the drawings of "
                      "ribs. The sheet that they bear on is pressed on its side there: that was "
                      "not looked at.");
  return all;
}

}  // namespace skewback
