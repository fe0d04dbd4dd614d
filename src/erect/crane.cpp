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

/// Between two lines of a chart the lesser capacity holds; beyond the last none.
double capacity_kg(const LiftRequest& request, double radius_m) {
  const auto reach = std::ranges::find_if(
      request.chart, [&](const CraneReach& r) { return r.radius_m >= radius_m; });
  return reach == request.chart.end() ? 0 : reach->capacity_kg;
}

std::string against(double radius_m, double kg, double hoisted_kg) {
  return "at " + in_metres(radius_m) +
         (kg > 0 ? ", " + std::to_string(std::lround(hoisted_kg)) + " of " +
                       std::to_string(std::lround(kg)) + " kg"
                 : ", beyond the last radius of its chart");
}

HandlingCheck against_chart(const std::string& name, int stand, const std::string& what,
                            double hoisted_kg, double radius_m, double kg) {
  return {name,
          hoisted_kg,
          kg,
          "kg",
          utilisation_of(hoisted_kg, kg),
          "stand " + std::to_string(stand) + ", " + what + " at " + in_metres(radius_m) +
              (kg > 0 ? "" : ", beyond the last radius of its chart"),
          "the crane's own chart, next greater radius; hook and slings included"};
}

/// From the first stand that carries it; else from the one that least stops, nearest to doing.
void check_reach(const LiftRequest& request, double hoisted_kg, std::optional<double> on_bed_m,
                 BlockLift& lift) {
  if (!request.crane) return;
  std::vector<Vec2> stands{*request.crane};
  if (request.second_stand) stands.push_back(*request.second_stand);
  lift.radius_m = (lift.hook.head<2>() - stands[0]).norm();
  if (request.chart.empty()) return;
  std::pair<int, double> least;
  for (const Vec2& stand : stands) {
    StandTried here;
    here.hoisted_kg = hoisted_kg;
    here.place_m = (lift.hook.head<2>() - stand).norm();
    here.place_kg = capacity_kg(request, here.place_m);
    if (request.lorry) {
      here.lorry_m = (*request.lorry - stand).norm() + on_bed_m.value_or(0);
      here.lorry_kg = capacity_kg(request, here.lorry_m);
    }
    const double worst = std::max(utilisation_of(hoisted_kg, here.place_kg),
                                  request.lorry ? utilisation_of(hoisted_kg, here.lorry_kg) : 0.0);
    const std::pair rank((here.place_stops() ? 1 : 0) + (here.lorry_stops() ? 1 : 0), worst);
    lift.stands.push_back(here);
    if (lift.stands.size() == 1 || rank < least) {
      least = rank;
      lift.stand = static_cast<int>(lift.stands.size());
    }
    if (rank.first == 0) break;
  }
  const StandTried& from = lift.stands[static_cast<std::size_t>(lift.stand - 1)];
  lift.radius_m = from.place_m;
  lift.checks.push_back(
      against_chart("crane", lift.stand, "place", hoisted_kg, from.place_m, from.place_kg));
  lift.crane_share = lift.checks.back().utilisation;
  if (request.lorry)
    lift.checks.push_back(against_chart(
        "crane, lorry", lift.stand,
        on_bed_m ? "on the lorry, its bed turned the worst way," : "middle of the lorry's bed",
        hoisted_kg, from.lorry_m, from.lorry_kg));
}

}  // namespace

bool beyond_the_crane(const BlockLift& lift) {
  return !lift.stands.empty() && std::ranges::all_of(lift.stands, [](const StandTried& s) {
    return s.place_stops() || s.lorry_stops();
  });
}

std::string remark_on_lorry(const LiftRequest& request, bool loads_known) {
  if (!request.lorry)
    return "The radius is that of each block's place; where the lorry stands is not in the brief "
           "(lifting.lorry): check the chart there too.";
  if (!loads_known)
    return "How blocks stand on the lorry is not planned (no [transport]): the radius there is "
           "that "
           "of the middle of its bed, not of its far end.";
  return "Which way the lorry's bed lies is not in the brief: the radius there is that of its "
         "middle (lifting.lorry) and how far from it the block stands.";
}

std::string stands_in_words(const BlockLift& lift) {
  std::string text;
  for (std::size_t k = 0; k < lift.stands.size(); ++k) {
    const StandTried& s = lift.stands[k];
    text += (k == 0 ? "stand " : "; stand ") + std::to_string(k + 1) + ": place " +
            against(s.place_m, s.place_kg, s.hoisted_kg) +
            (s.lorry_m > 0 ? ", lorry " + against(s.lorry_m, s.lorry_kg, s.hoisted_kg) : "");
  }
  return text;
}

void check_crane(const LiftRequest& request, const Solid& solid, const HandlingBlock& block,
                 double over_m, std::optional<double> on_bed_m, BlockLift& lift) {
  check_reach(request, block.mass_kg + request.rigging_mass_kg, on_bed_m, lift);
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
