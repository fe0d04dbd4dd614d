#include "deliver/report_ground.hpp"

namespace skewback::deliver {
namespace {

using Json = nlohmann::ordered_json;

Json maybe(const std::optional<double>& value) { return value ? Json(*value) : Json(nullptr); }

Json pair(const Vec2& v) { return {v.x(), v.y()}; }

Json size_json(const FootingSize& s) {
  return {{"length_m", s.length_m},
          {"inner_m", s.inner_m},
          {"outer_m", s.outer_m},
          {"depth_m", s.depth_m}};
}

Json case_json(const FootingCase& c) {
  return {{"case", c.case_id},
          {"approach", c.approach},
          {"dead_factor", c.dead_factor},
          {"live_factor", c.live_factor},
          {"words", c.words},
          {"vertical_n", c.vertical_n},
          {"horizontal_n", pair(c.horizontal_n)},
          {"eccentricity_m", pair(c.eccentricity_m)},
          {"effective_m", pair(c.effective_m)},
          {"pressure_pa", c.pressure_pa},
          {"resistance_pa", c.resistance_pa},
          {"bearing_used", maybe(c.bearing_used)},
          {"sliding_used", maybe(c.sliding_used)},
          {"gap", c.gap},
          {"far", c.far}};
}

Json footing_json(const FootingReport& f) {
  Json cases = Json::array();
  for (const FootingCase& c : f.cases) cases.push_back(case_json(c));
  Json holdfast = nullptr;
  if (f.holdfast)
    holdfast = {{"thrust_n", f.holdfast->thrust_n},
                {"deadman_m", maybe(f.holdfast->deadman_m)},
                {"pile_slope", f.holdfast->pile_slope},
                {"pile_push_n", f.holdfast->pile_push_n},
                {"pile_pull_n", f.holdfast->pile_pull_n}};
  return {{"id", f.id},
          {"size", size_json(f.size)},
          {"weight_n", f.weight_n},
          {"cleared", f.cleared},
          {"reason", f.reason},
          {"pressure_needed_pa", f.pressure_needed_pa},
          {"friction_needed", f.friction_needed},
          {"proposed", f.proposed ? size_json(*f.proposed) : Json(nullptr)},
          {"proposed_pressure_pa", f.proposed_pressure_pa},
          {"settlement_m", maybe(f.settlement_m)},
          {"settled_at_once", f.settled_at_once},
          {"tilt_rad", f.tilt_rad ? pair(*f.tilt_rad) : Json(nullptr)},
          {"plain_depth_m", f.plain_depth_m},
          {"overhang_m", f.overhang_m},
          {"holdfast", holdfast},
          {"cases", cases}};
}

Json raft_json(const std::optional<Raft>& raft) {
  if (!raft) return nullptr;
  Json outline = Json::array();
  for (const Vec2& p : raft->outline) outline.push_back(pair(p));
  return {{"outline_m", outline},
          {"top_m", raft->top_m},
          {"thickness_m", raft->thickness_m},
          {"area_m2", raft->area_m2},
          {"weight_n", raft->weight_n},
          {"pressure_pa", raft->pressure_pa},
          {"bearing_used", maybe(raft->bearing_used)},
          {"bearing_case", raft->bearing_case},
          {"sliding_used", maybe(raft->sliding_used)},
          {"sliding_case", raft->sliding_case},
          {"gap", raft->gap},
          {"pull_n", raft->pull_n},
          {"moment_nm", raft->moment_nm},
          {"section_m", raft->section_m},
          {"steel_m2_per_m", raft->steel_m2_per_m},
          {"steel_kg", raft->steel_kg},
          {"steel_case", raft->steel_case},
          {"cleared", raft->cleared},
          {"reason", raft->reason}};
}

Json layout_json(const std::optional<Layout>& layout) {
  if (!layout) return nullptr;
  Json ties = Json::array();
  for (const LaidTie& tie : layout->ties)
    ties.push_back({{"id", tie.id},
                    {"length_m", tie.length_m},
                    {"rods", tie.rods},
                    {"rod_force_n", tie.force_n},
                    {"thread", tie.thread},
                    {"steel_kg", tie.steel_kg},
                    {"thread_kg", tie.thread_kg}});
  return {{"steel_kg", layout->steel_kg}, {"thread_kg", layout->thread_kg}, {"ties", ties}};
}

Json shoe_json(const Shoe& s) {
  return {{"id", s.id},
          {"slope_deg", s.slope_deg},
          {"plate_along_m", s.plate_along_m},
          {"plate_across_m", s.plate_across_m},
          {"plate_thickness_m", s.plate_thickness_m},
          {"pressure_pa", s.pressure_pa},
          {"normal_n", s.normal_n},
          {"shear_n", s.shear_n},
          {"shear_left_n", s.shear_left_n},
          {"bolts", s.bolts},
          {"bolt", s.bolt},
          {"levelling_m", s.levelling_m},
          {"tie_n", s.tie_n},
          {"case", s.governing}};
}

}  // namespace

Json feet_json(const Groundworks& ground) {
  Json footings = Json::array(), ties = Json::array(), losses = Json::array(),
       shoes = Json::array();
  for (const FootingReport& f : ground.footings) footings.push_back(footing_json(f));
  for (const TieForce& tie : ground.ties)
    ties.push_back({{"id", tie.id},
                    {"thread", tie.thread},
                    {"resistance_n", tie.resistance_n},
                    {"governed_by", tie.thread_governs ? "thread" : "shank"}});
  for (const LossState& loss : ground.losses)
    losses.push_back({{"tie", loss.tie},
                      {"rod", loss.rod < 0 ? Json(nullptr) : Json(loss.rod + 1)},
                      {"held", loss.held},
                      {"cases", loss.cases},
                      {"cases_held", loss.cases_held},
                      {"used", loss.used},
                      {"governing", loss.governing},
                      {"reason", loss.reason}});
  for (const Shoe& shoe : ground.shoes) shoes.push_back(shoe_json(shoe));
  const TieLayout& layout = ground.layout;
  Json adding_up = nullptr;
  if (ground.adding_up)
    adding_up = {{"difference_rel", ground.adding_up->rel}, {"case", ground.adding_up->case_id}};
  return {{"footings", footings},
          {"adding_up", adding_up},
          {"raft", raft_json(ground.raft)},
          {"ties", ties},
          {"layout",
           {{"candidates", layout.candidates},
            {"refused", layout.refused},
            {"unheld", layout.unheld},
            {"best", layout_json(layout.best)},
            {"second", layout_json(layout.second)},
            {"second_reason", layout.second_reason},
            {"every_pair", layout_json(layout.every_pair)}}},
          {"losses", losses},
          {"shoes", shoes}};
}

}  // namespace skewback::deliver
