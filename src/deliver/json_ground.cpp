#include "deliver/json_parts.hpp"
#include "deliver/report_ground.hpp"

namespace skewback::deliver {

using Json = nlohmann::ordered_json;

namespace {

Json vector(const Vec3& v) { return Json::array({v.x(), v.y(), v.z()}); }

Json spread_json(const TieSpread& spread) {
  Json states = Json::array();
  for (const SpreadState& state : spread.states) {
    states.push_back(
        {{"case", state.case_id},
         {"tightened", state.tightened == Tightened::kAtStriking ? "at striking" : "not"},
         {"warmer_k", state.warmer_k},
         {"settled", state.settled},
         {"reason", state.reason},
         {"rounds", state.rounds},
         {"spread_m", state.spread_m},
         {"rod_force_n", state.rod_force_n},
         {"peak_pa", state.peak_pa},
         {"opening_max_m", state.opening_max_m},
         {"crown_drop_m", state.crown_drop_m},
         {"crown_drop_spread_m", state.crown_drop_spread_m}});
  }
  return {{"spread_m", spread.spread_m},
          {"unsettled", spread.unsettled},
          {"states", states},
          {"remarks", spread.remarks}};
}

}  // namespace

Json ground_json(const Dossier& dossier) {
  const Groundworks& ground = *dossier.ground;
  Json supports = Json::array(), ties = Json::array(), cases = Json::array();
  for (const SupportReaction& s : ground.supports) {
    supports.push_back({{"id", s.id},
                        {"reaction_n", vector(s.force)},
                        {"moment_nm", vector(s.moment)},
                        {"point_m", vector(s.point)},
                        {"thrust_n", s.thrust_n}});
  }
  Json thrusts = Json::array();
  for (const SpringingThrust& t : ground.thrusts)
    thrusts.push_back({{"id", t.id},
                       {"case", t.case_id},
                       {"pads_n", number(t.pads_n)},
                       {"least_n", number(t.least_n)},
                       {"greatest_n", number(t.greatest_n)}});
  for (const TieForce& tie : ground.ties) {
    ties.push_back({{"id", tie.id},
                    {"force_n", tie.force_n},
                    {"diameter_m", tie.diameter_m},
                    {"rod_force_n", tie.rod_force_n},
                    {"governing_rod_force_n", tie.governing_n},
                    {"governing", tie.governing},
                    {"length_m", tie.length_m}});
  }
  for (const TieState& state : ground.cases) {
    cases.push_back({{"id", state.case_id},
                     {"balanced", state.balanced},
                     {"residual_rel", state.residual_rel},
                     {"rod_force_n", state.rod_force_n},
                     {"reason", state.reason}});
  }
  Json out = {{"supports", supports},
              {"thrusts", thrusts},
              {"ties", ties},
              {"spread_m", dossier.spread ? Json(dossier.spread->spread_m) : Json(nullptr)},
              {"cases", cases},
              {"remarks", ground.remarks}};
  const Json feet = feet_json(ground);
  for (const auto& [key, value] : feet.items()) out[key == "ties" ? "threads" : key] = value;
  if (dossier.spread) out["stretch"] = spread_json(*dossier.spread);
  return out;
}

}  // namespace skewback::deliver
