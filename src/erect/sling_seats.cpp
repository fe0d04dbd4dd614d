// A sling that passes under a block where it comes to rest is pinched and cannot be drawn out.

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "centring/centring.hpp"
#include "erect/lifting_parts.hpp"

namespace skewback {
namespace {

PlanBar bar(const Vec2& from, const Vec2& to, double width_m) {
  return {(from + to) / 2, (to - from).normalized(), (to - from).norm() / 2, width_m / 2};
}

/// Half of what the bar covers of a line in plan.
double half_on(const PlanBar& bar, const Vec2& way) {
  const Vec2 side(-bar.way.y(), bar.way.x());
  return bar.half_length_m * std::abs(bar.way.dot(way)) +
         bar.half_width_m * std::abs(side.dot(way));
}

/// Two rectangles are apart where a line square to a side of one divides them.
bool meet(const PlanBar& a, const PlanBar& b) {
  constexpr double kTouch = 1e-6;  // m
  for (const Vec2& way : {a.way, Vec2(-a.way.y(), a.way.x()), b.way, Vec2(-b.way.y(), b.way.x())}) {
    const double apart = std::abs((b.middle - a.middle).dot(way));
    if (apart >= half_on(a, way) + half_on(b, way) - kTouch) return false;
  }
  return true;
}

constexpr double kLittle = 0.25;  // of the design strength (ours)

}  // namespace

double little_tension(const Brief& brief, double mass_kg) {
  const LiftRequest& request = brief.lifting;
  const double strength = design_strength(brief.material.fck_pa, brief.factors.concrete,
                                          brief.factors.plain, brief.strength.layer_tension_pa)
                              .tension_pa;
  double age = age_on_site(brief).tension, dynamic = request.dynamic;
  if (!brief.print.wanted) {  // hangs so in the yard as well
    age = std::min(age, age_off_table(brief).tension);
    dynamic = std::max(dynamic, request.dynamic_yard);
  }
  return kLittle * age * strength / (request.gamma_load * dynamic * mass_kg * kGravity);
}

std::vector<PlanBar> under_blocks(const CentringRequest& request, const Centring& centring) {
  std::vector<PlanBar> bars;
  if (request.seats == "laggings") {
    for (const Stick& stick : centring.sticks) {
      if (stick.kind == "lagging")
        bars.push_back(bar(stick.from.head<2>(), stick.to.head<2>(), stick.width_m));
    }
    return bars;
  }
  // a rib's edge follows the soffit all along, those across lie under it
  for (const Rib& rib : centring.ribs) {
    if (rib.is_cross || rib.top.empty()) continue;
    const auto at = [&](const Vec2& p) -> Vec2 { return rib.place.to_world(p).head<2>(); };
    bars.push_back(bar(at(rib.top.front()), at(rib.top.back()), request.sheet_thickness_m));
  }
  return bars;
}

int lines_over(const std::vector<SlingLine>& lines, double width_m,
               const std::vector<PlanBar>& bars) {
  return static_cast<int>(std::ranges::count_if(lines, [&](const SlingLine& line) {
    const PlanBar strip = bar(line.back.head<2>(), line.front.head<2>(), width_m);
    return std::ranges::any_of(bars, [&](const PlanBar& b) { return meet(strip, b); });
  }));
}

std::string remark_on_seats(const Brief& brief, const Centring* centring, const LiftPlan& plan) {
  constexpr int kFew = 8;
  if (centring == nullptr)
    return "Under the soffit they need room between the ribs or laggings of a centring. None is "
           "drawn: it is not checked that a seat does not stand at a sling.";
  const std::string strip =
      std::to_string(std::lround(1000 * brief.lifting.sling_width_m)) + " mm under the soffit";
  const bool laggings = brief.centring.seats == "laggings";
  std::string ids;
  int count = 0;
  for (const BlockLift& lift : plan.lifts) {
    if (lift.sling_over_seat.value_or(false)) ids += (count++ == 0 ? "" : ", ") + lift.id;
  }
  if (count == 0)
    return std::string("No sling runs over a ") + (laggings ? "lagging" : "rib") + " in its " +
           strip + ": it can be drawn out when the block stands on its seats.";
  return (count > kFew ? std::to_string(count) + " blocks (sling_over_seat in lifts.csv)" : ids) +
         ": a sling runs over a " + (laggings ? "lagging" : "rib") + " in its " + strip +
         ". Set down on it, the sling is pinched and cannot be drawn out. Let the block down on "
         "packing pieces thicker than the sling, clear of both slings, draw the slings out, and "
         "ease it off the pieces; or hang it from inserts in its back; or move " +
         (laggings ? "to ribs without laggings, between which slings find room."
                   : "the ribs (centring.rib_spacing) or, where the block bears it, the slings.");
}

}  // namespace skewback
