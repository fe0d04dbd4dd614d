#include <algorithm>

#include "base/constants.hpp"
#include "deliver/csv.hpp"
#include "deliver/report_haul.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

std::string points(const std::vector<Vec3>& at) {
  std::vector<std::string> out;
  for (const Vec3& p : at)
    out.push_back(fixed(p.x(), 3) + " " + fixed(p.y(), 3) + " " + fixed(p.z(), 3));
  return joined(out, "; ");
}

std::string lengths(const std::vector<double>& legs) {
  std::vector<std::string> out;
  for (const double l : legs) out.push_back(fixed(l, 3));
  return joined(out, "; ");
}

std::string degrees(double rad) { return fixed(rad * 180 / kPi, 2); }

}  // namespace

const HandlingCheck* worst_check(const std::vector<HandlingCheck>& checks) {
  if (checks.empty()) return nullptr;
  return &*std::ranges::max_element(checks, {}, &HandlingCheck::utilisation);
}

/// Empty: not by 28 days.
std::string in_days(const std::optional<double>& days) { return days ? fixed(*days, 2) : ""; }

std::string lifts_csv(const LiftPlan& plan) {
  std::string out = csv_line({"order",
                              "block",
                              "mass_kg",
                              "centre_x_m",
                              "centre_y_m",
                              "centre_z_m",
                              "sling_points_m",
                              "leg_lengths_m",
                              "hook_z_m",
                              "angle_deg",
                              "leg_force_n",
                              "tilt_equal_legs_deg",
                              "soffit_slope_deg",
                              "held_by",
                              "strap_n",
                              "sling_over_seat",
                              "layer_tension_pa",
                              "may_leave_table_days",
                              "may_be_placed_days",
                              "stand",
                              "radius_m",
                              "crane_share",
                              "stands_tried",
                              "wind_m_s",
                              "way_clear",
                              "obstacle",
                              "worst_check",
                              "utilisation"});
  for (std::size_t i = 0; i < plan.lifts.size(); ++i) {
    const BlockLift& l = plan.lifts[i];
    const HandlingCheck* worst = worst_check(l.checks);
    out += csv_line({std::to_string(i + 1),
                     l.id,
                     fixed(l.mass_kg, 1),
                     fixed(l.centre.x(), 3),
                     fixed(l.centre.y(), 3),
                     fixed(l.centre.z(), 3),
                     points(l.slings),
                     lengths(l.leg_lengths_m),
                     fixed(l.hook.z(), 3),
                     degrees(l.sling_angle_rad),
                     fixed(l.leg_force_n, 0),
                     degrees(l.tilt_rad),
                     degrees(l.slope_rad),
                     held_by(l),
                     fixed(l.strap_n, 0),
                     l.sling_over_seat ? *l.sling_over_seat ? "yes" : "no" : "",
                     fixed(l.layer_tension_pa, 0),
                     in_days(may_leave_table_days(l)),
                     in_days(may_be_placed_days(l)),
                     std::to_string(l.stand),
                     fixed(l.radius_m, 2),
                     fixed(l.crane_share, 3),
                     stands_in_words(l),
                     fixed(l.wind_m_s, 2),
                     l.way_clear ? "yes" : "no",
                     l.obstacle,
                     worst == nullptr ? "" : worst->name,
                     fixed(l.utilisation, 3)});
  }
  return out;
}

std::string pallets_csv(const Transport& transport) {
  std::string out =
      csv_line({"lorry", "pallet", "block", "spare", "bedded", "pallet_mass_kg", "pallet_length_m",
                "pallet_width_m", "pallet_height_m", "own_bearers", "from_headboard_m", "to_left_m",
                "turned", "bearer_1_m", "bearer_2_m", "tips_at_g", "worst_check", "utilisation"});
  const auto point = [](const Vec2& p) { return fixed(p.x(), 3) + " " + fixed(p.y(), 3); };
  for (const LorryLoad& lorry : transport.lorries) {
    for (const LoadedPallet& at : lorry.pallets) {
      const Pallet& p = transport.pallets[static_cast<std::size_t>(at.pallet)];
      for (const BeddedBlock& b : p.blocks) {
        const HandlingCheck* worst = worst_check(b.checks);
        out += csv_line({lorry.id, p.id, b.id, b.spare ? "yes" : "no", b.words, fixed(p.mass_kg, 1),
                         fixed(p.length_m, 3), fixed(p.width_m, 3), fixed(p.height_m, 3),
                         p.own_bearers ? "yes" : "no", fixed(at.at.x(), 3), fixed(at.at.y(), 3),
                         at.turned ? "yes" : "no", point(b.bearers.at(0)), point(b.bearers.at(1)),
                         fixed(b.tips_at_g, 3), worst == nullptr ? "" : worst->name,
                         worst == nullptr ? "" : fixed(worst->utilisation, 3)});
      }
    }
  }
  return out;
}

}  // namespace skewback::deliver
