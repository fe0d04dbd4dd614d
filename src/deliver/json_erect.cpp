#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "deliver/facts.hpp"
#include "deliver/json_parts.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

using Json = nlohmann::ordered_json;

Json vector(const Vec3& v) { return Json::array({v.x(), v.y(), v.z()}); }
double degrees(double sine) { return std::asin(std::clamp(sine, -1.0, 1.0)) * 180 / kPi; }

Json entry_json(const Assembly& assembly, const Entry& entry) {
  Json stuck = Json::array();
  for (const int joint : entry.stuck_by) stuck.push_back(joint_name(assembly, joint));
  return {{"block", assembly.blocks[static_cast<std::size_t>(entry.block)].id},
          {"out", vector(entry.direction)},
          {"margin_deg", degrees(entry.margin)},
          {"stuck_by", stuck}};
}

}  // namespace

Json pads_json(const Assembly* assembly, const PadState& pads) {
  const auto joint = [&](int j) {
    const std::string name = assembly != nullptr ? joint_name(*assembly, j) : "";
    return name.empty() ? Json(nullptr) : Json(name);
  };
  if (!pads.found) return {{"found", false}, {"reason", pads.reason}};
  return {{"found", true},
          {"sticks", pads.sticks},
          {"peak_pa", pads.peak_pa},
          {"peak_joint", joint(pads.peak_joint)},
          {"opening_max_m", pads.opening_max_m},
          {"opening_joint", joint(pads.opening_joint)},
          {"friction_used", pads.friction_used},
          {"friction_joint", joint(pads.friction_joint)},
          {"move_max_m", pads.move_max_m},
          {"flattening", number(pads.flattening)},
          {"residual_rel", pads.residual_rel},
          {"beyond_friction_rel", pads.beyond_friction_rel},
          {"steps", pads.steps},
          {"rounds", pads.rounds},
          {"in_steps", pads.in_steps}};
}

namespace {

Json motion_figures(const Assembly* assembly, const Motion& m) {
  const bool named = assembly != nullptr && m.moved_block >= 0;
  return {{"ending", word(m.ending)},
          {"time_s", m.time_s},
          {"steps", m.steps},
          {"moved_max_m", m.moved_max_m},
          {"moved_block",
           named ? Json(assembly->blocks[static_cast<std::size_t>(m.moved_block)].id) : Json()},
          {"speed_max_m_s", m.speed_max},
          {"unbalanced_rel", m.unbalanced},
          {"energy_error_rel", m.energy.error},
          {"slips", m.slips}};
}

Json working_json(const Assembly& assembly, const std::optional<WorkingLoads>& working) {
  if (!working) return nullptr;
  return {{"verdict", word(working->verdict)},
          {"views", working->views},
          {"cases", working->cases},
          {"standing", working->standing},
          {"governing", working->governing},
          {"load_factor", number(working->load_factor)},
          {"load_factor_is_at_least", working->at_cap},
          {"seat_force_max_n", working->seat_force_max_n},
          {"reason", working->reason},
          {"motion", working->motion ? motion_figures(&assembly, *working->motion) : Json(nullptr)},
          {"let_go_as", working->let_go_as < 0 ? Json(nullptr) : Json(working->let_go_as + 1)}};
}

}  // namespace

Json let_go_json(const Assembly* assembly, const CaseProof& proof) {
  if (!proof.motion) return nullptr;
  Json out = motion_figures(assembly, *proof.motion);
  out["joint_force_over_pads"] = number(motion_over_pads(proof));
  return out;
}

/// Those that do not stand, and of each foot the one that loads it most.
Json uneven_json(const UnevenStriking& uneven) {
  const auto step_json = [](const UnevenStep& step) {
    return Json{{"foot", step.foot},
                {"step", step.stage + 1},
                {"lags", step.lags},
                {"stands", step.stands},
                {"foot_n", step.foot_n},
                {"seat_force_max_n", step.seat_force_max_n},
                {"opening_max_m", step.opening_max_m},
                {"opening_joint", step.opening_joint},
                {"pad_peak_pa", step.pad_peak_pa},
                {"reason", step.reason}};
  };
  Json fall = Json::array(), hardest = Json::array();
  for (const UnevenStep& step : uneven.steps)
    if (!step.stands) fall.push_back(step_json(step));
  for (const UnevenStep* step : hardest_on_each_foot(uneven)) hardest.push_back(step_json(*step));
  return {{"states", uneven.steps.size()},
          {"standing", uneven.standing},
          {"words", uneven.words},
          {"not_standing", fall},
          {"hardest_on_each_foot", hardest}};
}

Json erect_json(const Dossier& dossier) {
  const Programme& programme = *dossier.programme;
  const auto paths = stage_evidence_paths(programme);
  Json stages = Json::array(), least = nullptr;
  for (std::size_t i = 0; i < programme.stages.size(); ++i) {
    const Stage& stage = programme.stages[i];
    Json entries = Json::array();
    for (const Entry& entry : stage.entry) {
      entries.push_back(entry_json(dossier.cut->assembly, entry));
      const double margin = degrees(entry.margin);
      if (least.is_null() || margin < least.get<double>()) least = margin;
    }
    stages.push_back(
        {{"step", stage.step},
         {"what", stage.what},
         {"words", stage.words},
         {"block", joined(stage.blocks, ", ")},
         {"blocks", stage.blocks},
         {"verdict", word(stage.proof.verdict)},
         {"views", stage.proof.views},
         {"residual_rel", stage.proof.residual_rel},
         {"seat_force_max_n", stage.seat_force_max_n},
         {"seat_load_n", stage.seat_load_n},
         {"seat_uneven_n", stage.seat_uneven_n},
         {"seat_sideways_n", stage.seat_sideways_n},
         {"seats_bearing", stage.seats_bearing},
         {"lowered_m", stage.lowered_m},
         {"crown_drop_m", stage.crown_drop_m},
         {"opening_max_m", stage.opening_max_m},
         {"opening_joint", stage.opening_joint},
         {"tie_n", stage.tie_n},
         {"tie", stage.tie},
         {"tie_about", stage.tie_about},
         {"reason", stage.proof.reason},
         {"working", working_json(dossier.cut->assembly, stage.working)},
         {"certificate", paths[stage.same_as < 0 ? i : static_cast<std::size_t>(stage.same_as)]},
         {"pads",
          stage.proof.pads ? pads_json(&dossier.cut->assembly, *stage.proof.pads) : Json(nullptr)},
         {"pads_certificate", stage.proof.pads && stage.proof.pads->found
                                  ? Json(pads_evidence_path(paths[i]))
                                  : Json(nullptr)},
         {"motion", let_go_json(&dossier.cut->assembly, stage.proof)},
         {"motion_certificate",
          stage.let_go_as < 0
              ? Json(nullptr)
              : Json(motion_path(paths[static_cast<std::size_t>(stage.let_go_as)]))},
         {"entry", entries}});
  }
  Json orders = Json::array();
  for (const OrderTrial& trial : programme.orders) {
    orders.push_back({{"order", trial.order},
                      {"stages", trial.stages},
                      {"standing", trial.standing},
                      {"seat_force_max_n", trial.seat_force_max_n},
                      {"seat_load_max_n", trial.seat_load_max_n},
                      {"seat_uneven_max_n", trial.seat_uneven_max_n},
                      {"seat_sideways_max_n", trial.seat_sideways_max_n}});
  }
  return {{"order", programme.order},
          {"entry_margin_least_deg", least},
          {"stages", stages},
          {"freed", programme.freed},
          {"lowering_m", programme.lowering_m},
          {"raising_m", programme.raising_m},
          {"key_pull_n", programme.key_pull_n},
          {"keys_free", programme.keys_free},
          {"orders", orders},
          {"uneven_striking", uneven_json(programme.uneven)},
          {"remarks", programme.remarks}};
}

}  // namespace skewback::deliver
