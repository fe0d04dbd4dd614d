#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "centring/rib_draft.hpp"

namespace skewback {
namespace {

constexpr double kPast = 5e-4;         // m, each slot beyond the middle: they meet without touching
constexpr double kLeastShared = 0.06;  // m of height that both ribs must have

/// Circle of the bit whose edge goes through an inner corner, into the slot from it.
Polygon relief(const Vec2& corner, const Vec2& into, double diameter) {
  const Vec2 centre = corner + diameter / 2 * into.normalized();
  const Vec2 to_corner = corner - centre;
  constexpr int kSides = 16;
  Polygon circle;
  for (int i = 0; i < kSides; ++i) {
    const double turn = 2 * kPi * i / kSides, c = std::cos(turn), s = std::sin(turn);
    circle.push_back(centre + Vec2(c * to_corner.x() - s * to_corner.y(),
                                   s * to_corner.x() + c * to_corner.y()));
  }
  return circle;
}

Regions slot(const CentringRequest& request, const Crossing& c, bool from_below) {
  const double half = c.slot_width_m / 2, end = c.slot_end_m;
  const double open = from_below ? end - 10 : end + 10;
  Polygon box{{c.x - half, std::min(end, open)},
              {c.x + half, std::min(end, open)},
              {c.x + half, std::max(end, open)},
              {c.x - half, std::max(end, open)}};
  Regions cut{{box, {}}};
  if (request.cutter != "router") return cut;
  const double up = from_below ? -1 : 1;
  for (const double side : {-1.0, 1.0}) {
    cut.push_back({relief({c.x + side * half, end}, {-side, up}, request.tool_m), {}});
  }
  return cut;
}

}  // namespace

void halve_crossings(CentringDraft& draft) {
  const CentringRequest& request = draft.request();
  const double t = request.sheet_thickness_m;
  int left_out = 0;
  for (std::size_t i = 0; i < draft.ribs.size(); ++i) {
    RibDraft& rib = draft.ribs[i];
    if (rib.rib.is_cross) continue;
    std::vector<Crossing> kept;
    for (Crossing c : rib.crossings) {
      RibDraft& cross = draft.ribs[static_cast<std::size_t>(c.other)];
      const auto mate = std::ranges::find(cross.crossings, static_cast<int>(i), &Crossing::other);
      const double width = t / std::sin(c.angle_rad) +
                           t * std::cos(c.angle_rad) / std::sin(c.angle_rad) + request.clearance_m;
      const double low = std::max(height(rib.rib.bottom, c.x), height(cross.rib.bottom, mate->x));
      const double high = std::min(least(rib.rib.top, c.x - width / 2, c.x + width / 2),
                                   least(cross.rib.top, mate->x - width / 2, mate->x + width / 2));
      if (high - low < kLeastShared) {
        cross.crossings.erase(mate);
        ++left_out;
        continue;
      }
      c.slot_width_m = mate->slot_width_m = width;
      c.slot_end_m = (low + high) / 2 - kPast;
      mate->slot_end_m = (low + high) / 2 + kPast;
      kept.push_back(c);
    }
    rib.crossings = kept;
  }
  // a cross rib left with less than two crossings holds nothing
  for (std::size_t i = 0; i < draft.ribs.size(); ++i) {
    RibDraft& cross = draft.ribs[i];
    if (!cross.rib.is_cross || cross.crossings.size() >= 2) continue;
    for (const Crossing& c : cross.crossings) {
      std::erase_if(draft.ribs[static_cast<std::size_t>(c.other)].crossings,
                    [&](const Crossing& r) { return r.other == static_cast<int>(i); });
    }
    cross.crossings.clear();
    cross.rib.top.clear();
  }
  for (RibDraft& rib : draft.ribs) {
    rib.rib.crossings.clear();
    for (const Crossing& c : rib.crossings) rib.rib.crossings.push_back(c.x);
  }
  if (left_out > 0) {
    draft.out.remarks.push_back(std::to_string(left_out) +
                                " crossings are left out where the ribs are too shallow to halve");
  }
}

Regions rib_region(const CentringDraft& draft, const RibDraft& rib) {
  Polygon outline = rib.rib.bottom;
  outline.insert(outline.end(), rib.rib.top.rbegin(), rib.rib.top.rend());
  Regions cuts;
  for (const Crossing& c : rib.crossings) {
    for (Region& region : slot(draft.request(), c, rib.rib.is_cross)) {
      cuts.push_back(std::move(region));
    }
  }
  return cuts.empty() ? Regions{{outline, {}}} : subtract({{outline, {}}}, cuts);
}

}  // namespace skewback
