#include <cmath>

#include "base/constants.hpp"
#include "deliver/json_parts.hpp"
#include "deliver/report_haul.hpp"

namespace skewback::deliver {
namespace {

using Json = nlohmann::ordered_json;

/// null where it has no bound.
Json finite(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }
Json point(const Vec3& p) { return {p.x(), p.y(), p.z()}; }
Json point(const Vec2& p) { return {p.x(), p.y()}; }
double degrees(double rad) { return rad * 180 / kPi; }

Json checks_json(const std::vector<HandlingCheck>& checks) {
  Json list = Json::array();
  for (const HandlingCheck& c : checks) {
    Json entry = {{"name", c.name},
                  {"demand", c.demand},
                  {"resistance", c.resistance},
                  {"unit", c.unit},
                  {"utilisation", finite(c.utilisation)},
                  {"place", c.place},
                  {"source", c.source}};
    if (c.age_days > 0) {
      entry["age_days"] = c.age_days;
      entry["holds_from_days"] = number(c.holds_from_days);
    }
    list.push_back(std::move(entry));
  }
  return list;
}

Json lift_json(const BlockLift& l) {
  Json slings = Json::array();
  for (const Vec3& s : l.slings) slings.push_back(point(s));
  return {{"id", l.id},
          {"mass_kg", l.mass_kg},
          {"centre_m", point(l.centre)},
          {"slings_m", std::move(slings)},
          {"leg_lengths_m", l.leg_lengths_m},
          {"hook_m", point(l.hook)},
          {"angle_deg", degrees(l.sling_angle_rad)},
          {"leg_force_n", l.leg_force_n},
          {"tilt_equal_legs_deg", degrees(l.tilt_rad)},
          {"soffit_slope_deg", degrees(l.slope_rad)},
          {"held_by", held_by(l)},
          {"strap_n", l.strap_n},
          {"sling_over_seat", l.sling_over_seat ? Json(*l.sling_over_seat) : Json(nullptr)},
          {"layer_tension_pa", l.layer_tension_pa},
          {"may_leave_table_days", number(may_leave_table_days(l))},
          {"may_be_placed_days", number(may_be_placed_days(l))},
          {"stand", l.stand},
          {"radius_m", l.radius_m},
          {"crane_share", finite(l.crane_share)},
          {"stands_tried", stands_in_words(l)},
          {"wind_m_s", l.wind_m_s},
          {"way_clear", l.way_clear},
          {"obstacle", l.obstacle},
          {"utilisation", finite(l.utilisation)},
          {"checks", checks_json(l.checks)}};
}

Json pallet_json(const Pallet& p) {
  Json blocks = Json::array();
  for (const BeddedBlock& b : p.blocks) {
    Json bearers = Json::array();
    for (const Vec2& q : b.bearers) bearers.push_back(point(q));
    blocks.push_back({{"id", b.id},
                      {"spare", b.spare},
                      {"bedded", b.words},
                      {"bearers_m", std::move(bearers)},
                      {"tips_at_g", b.tips_at_g},
                      {"checks", checks_json(b.checks)}});
  }
  return {{"id", p.id},
          {"mass_kg", p.mass_kg},
          {"size_m", {p.length_m, p.width_m, p.height_m}},
          {"own_bearers", p.own_bearers},
          {"blocks", std::move(blocks)}};
}

Json age_json(const LiftAge& age) {
  return {{"days", age.as_tested ? Json(nullptr) : Json(age.days)},
          {"tension_share", age.tension},
          {"compression_share", age.compression}};
}

}  // namespace

Json lifting_json(const LiftPlan& plan) {
  Json lifts = Json::array();
  for (const BlockLift& l : plan.lifts) lifts.push_back(lift_json(l));
  return {{"utilisation", finite(plan.utilisation)},
          {"off_table", age_json(plan.table)},
          {"on_site", age_json(plan.site)},
          {"lifts", std::move(lifts)},
          {"remarks", plan.remarks}};
}

Json transport_json(const Transport& transport) {
  Json pallets = Json::array(), lorries = Json::array();
  for (const Pallet& p : transport.pallets) pallets.push_back(pallet_json(p));
  for (const LorryLoad& lorry : transport.lorries) {
    Json load = Json::array();
    for (const LoadedPallet& p : lorry.pallets) {
      load.push_back({{"pallet", transport.pallets[static_cast<std::size_t>(p.pallet)].id},
                      {"at_m", point(p.at)},
                      {"turned", p.turned},
                      {"row", p.row}});
    }
    lorries.push_back({{"id", lorry.id},
                       {"mass_kg", lorry.mass_kg},
                       {"centre_m", point(lorry.centre)},
                       {"straps", lorry.straps},
                       {"pallets", std::move(load)}});
  }
  return {{"utilisation", finite(transport.utilisation)},
          {"pallets", std::move(pallets)},
          {"lorries", std::move(lorries)},
          {"remarks", transport.remarks}};
}

}  // namespace skewback::deliver
