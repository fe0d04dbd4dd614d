// What the crane must do for a block: reach, carry, height, wind.
#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "erect/lifting_parts.hpp"

namespace skewback {

double sling_force(double weight_n, double dynamic, int legs, double beta_rad) {
  return weight_n * dynamic / (legs * std::cos(beta_rad));
}

double permitted_wind(double v_table_m_s, double mass_kg, double drag, double area_m2) {
  const double exposed = drag * area_m2;
  if (!(exposed > 0)) return v_table_m_s;
  return std::min(v_table_m_s, v_table_m_s * std::sqrt(1.2 * mass_kg / 1000 / exposed));
}

double stop_n(const LiftRequest& request, double mass_kg, double slope_rad) {
  return request.gamma_load * request.dynamic * mass_kg * kGravity * std::sin(slope_rad);
}

double wind_area_m2(const Solid& solid) {
  constexpr int kSides = 18;
  double most = 0;
  for (int i = 0; i < kSides; ++i) {
    const double angle = kPi * i / kSides;
    const Vec2 right(std::cos(angle), std::sin(angle));
    std::vector<Vec2> seen;
    for (const Vec3& v : solid.vertices) seen.emplace_back(v.head<2>().dot(right), v.z());
    most = std::max(most, area(convex_hull(seen)));
  }
  return most;
}

namespace {

std::string in_metres(double metres) {
  const long tenths = std::lround(10 * metres);
  return std::to_string(tenths / 10) + "." + std::to_string(tenths % 10) + " m";
}

/// Between two lines of a chart the lesser capacity holds.
HandlingCheck against_chart(const LiftRequest& request, const std::string& name, double hoisted_kg,
                            double radius_m) {
  const auto reach = std::ranges::find_if(
      request.chart, [&](const CraneReach& r) { return r.radius_m >= radius_m; });
  const bool beyond = reach == request.chart.end();
  const double capacity = beyond ? 0 : reach->capacity_kg;
  return {name,
          hoisted_kg,
          capacity,
          "kg",
          utilisation_of(hoisted_kg, capacity),
          beyond ? "beyond the last radius of its chart" : "chart at " + in_metres(reach->radius_m),
          "the crane's own chart, next greater radius; hook and slings included"};
}

/// From the first stand that carries it; else from the one that comes nearest.
void check_reach(const LiftRequest& request, double hoisted_kg, BlockLift& lift) {
  if (!request.crane) return;
  std::vector<Vec2> stands{*request.crane};
  if (request.second_stand) stands.push_back(*request.second_stand);
  std::vector<HandlingCheck> best;
  double least = 0;
  for (std::size_t k = 0; k < stands.size(); ++k) {
    const double radius_m = (lift.hook.head<2>() - stands[k]).norm();
    std::vector<HandlingCheck> here;
    double worst = 0;
    if (!request.chart.empty()) {
      here.push_back(against_chart(request, "crane", hoisted_kg, radius_m));
      if (request.lorry)
        here.push_back(against_chart(request, "crane, lorry", hoisted_kg,
                                     (*request.lorry - stands[k]).norm()));
      for (const HandlingCheck& check : here) worst = std::max(worst, check.utilisation);
    }
    if (k > 0 && (least <= 1 || worst >= least)) continue;
    least = worst;
    lift.stand = static_cast<int>(k) + 1;
    lift.radius_m = radius_m;
    lift.crane_share = here.empty() ? 0 : here.front().utilisation;
    best = std::move(here);
  }
  lift.checks.insert(lift.checks.end(), best.begin(), best.end());
}

}  // namespace

void check_crane(const LiftRequest& request, const Solid& solid, const HandlingBlock& block,
                 double over_m, BlockLift& lift) {
  check_reach(request, block.mass_kg + request.rigging_mass_kg, lift);
  const double drop = lift.hook.z() - block.low.z();  // hook over the block's lowest point
  const double highest = std::max(over_m + kLiftOver_m + drop, lift.hook.z() + kEntry_m);
  const double height = highest - request.crane_level_m;
  lift.checks.push_back(
      {"hook height", height, request.hook_max_m, "m", utilisation_of(height, request.hook_max_m),
       "block 0.5 m over all that stands, or over its place", "what stands, slings and block"});
  lift.wind_m_s =
      permitted_wind(request.wind_table_m_s, block.mass_kg, request.drag, wind_area_m2(solid));
}

}  // namespace skewback
