#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "base/constants.hpp"
#include "deliver/deliver.hpp"
#include "deliver/facts.hpp"
#include "deliver/json_parts.hpp"
#include "deliver/report_access.hpp"
#include "deliver/report_centring.hpp"
#include "deliver/report_haul.hpp"
#include "deliver/report_spares.hpp"
#include "deliver/report_strength.hpp"
#include "deliver/report_tolerances.hpp"
#include "deliver/scan_files.hpp"
#include "deliver/text.hpp"

namespace skewback {
namespace {

using namespace deliver;
using Json = nlohmann::ordered_json;  // numbers that are not finite are written as null

Json vector(const Vec3& v) { return Json::array({v.x(), v.y(), v.z()}); }

Json achieved_json(const Form& form) {
  Json out = Json::array();
  for (const Achieved& wish : form.achieved)
    out.push_back({{"name", wish.name},
                   {"asked", wish.asked},
                   {"got", wish.got},
                   {"unit", wish.unit},
                   {"met", wish.met}});
  return out;
}

Json form_json(const Form& form) {
  return {{"vertices", form.vertices.size()},
          {"edges", form.edges.size()},
          {"residual_rel", form.residual_rel},
          {"tension_max_n", form.tension_max_n},
          {"fit_rms_m", form.fit_rms_m},
          {"rise_asked_m", form.rise_asked_m},
          {"rise_m", form.rise_m},
          {"plan_shift_max_m", form.plan_shift_max_m},
          {"thrust_max_n", form.thrust_max_n},
          {"unevenness_rel", form.unevenness_rel},
          {"start", form.by_load_path ? kByLoadPath : "plain"},
          {"plain_kept", form.plain_kept},
          {"achieved", achieved_json(form)}};
}

// Once the blocks are cut the volume is that of the hollow body, joints not yet taken out.
Json body_json(const Dossier& dossier) {
  const Body& body = *dossier.body;
  const double volume = dossier.cut ? dossier.cut->report.designed_volume_m3 : body.outer_volume_m3;
  Json out{{"volume_m3", volume},
           {"mass_kg", volume * body.density},
           {"outer_volume_m3", body.outer_volume_m3},
           {"voids_taken_out", dossier.cut.has_value()},
           {"thickness_min_m", body.thickness_min_m},
           {"thickness_max_m", body.thickness_max_m},
           {"normals_turned_deg", body.turned_deg}};
  if (const auto& found = dossier.depth_found)
    out["depth_from_thrust"] = {
        {"depth_crown_m", found->crown_m}, {"depth_springing_m", found->springing_m},
        {"holds", found->holds},           {"fails", found->fails},
        {"ruled_by", found->ruled_by},     {"shapes_tried", found->shapes}};
  return out;
}

Json cut_json(const Dossier& dossier) {
  const BlockTotals t = totals(dossier.cut->assembly);
  const CutReport& report = dossier.cut->report;
  const auto angle = [&](double deg) {
    return dossier.dead_resultants.empty() ? Json() : Json(deg);
  };
  return {{"blocks", t.blocks},
          {"ground_blocks", t.ground_blocks},
          {"joints", t.joints},
          {"mass_kg", t.mass_kg},
          // known with the loads
          {"carried_kg", dossier.cut->assembly.cases.empty() ? Json() : Json(t.carried_kg)},
          {"block_mass_max_kg", t.mass_max_kg},
          {"block_mass_min_kg", t.mass_min_kg},
          {"joint_angle_median_deg", angle(dossier.joint_angle_median_deg)},
          {"joint_angle_max_deg", angle(dossier.joint_angle_max_deg)},
          {"joint_angle_max_at", dossier.joint_angle_max_at},
          {"joint_angle_light_deg", angle(dossier.joint_angle_light_deg)},
          {"watertight", report.watertight},
          {"volume_error_rel", report.volume_error_rel},
          {"designed_volume_m3", report.designed_volume_m3},
          {"pads_volume_m3", report.pads_volume_m3},
          {"leaf_least_m", report.leaf_least_m},
          {"mass_spread", report.mass_spread},
          {"height_ratio_max", report.height_ratio_max},
          {"stagger_min", report.stagger_min},
          {"blunted_arrises", report.blunted_arrises},
          {"remarks", report.remarks}};
}

Json required_json(const std::vector<RequiredCheck>& checks) {
  Json list = Json::array();
  for (const RequiredCheck& check : checks) {
    list.push_back({{"name", check.name},
                    {"value", number(check.value)},
                    {"limit", check.limit},
                    {"limit_is", check.at_most ? "at most" : "at least"},
                    {"unit", check.unit},
                    {"passes", check.passes ? Json(*check.passes) : Json("not checked")},
                    {"source", check.source},
                    {"note", check.note}});
  }
  return list;
}

Json cases_json(const Assembly* assembly, const std::vector<CaseProof>& proofs,
                const std::string& folder) {
  const auto paths = evidence_paths(proofs, folder);
  Json list = Json::array();
  for (std::size_t i = 0; i < proofs.size(); ++i) {
    const CaseProof& proof = proofs[i];
    list.push_back(
        {{"id", proof.id},
         {"verdict", word(proof.verdict)},
         {"views", proof.views},
         {"load_factor", number(proof.load_factor)},
         {"load_factor_is_at_least", proof.at_cap},
         {"pads_load_factor", number(proof.pads_load_factor)},
         {"pads_load_factor_is_at_least", proof.pads_at_cap},
         {"flattening", number(proof.flattening)},
         {"friction_needed", number(proof.friction_needed)},
         {"joint_stress_max_pa", number(proof.joint_stress_max_pa)},
         {"residual_rel", proof.residual_rel},
         {"reason", proof.reason},
         {"certificate", paths[i]},
         {"pads", proof.pads ? pads_json(assembly, *proof.pads) : Json(nullptr)},
         {"pads_certificate",
          proof.pads && proof.pads->found ? Json(pads_evidence_path(paths[i])) : Json(nullptr)},
         {"motion", let_go_json(assembly, proof)},
         {"motion_certificate", proof.motion ? Json(motion_path(paths[i])) : Json(nullptr)}});
  }
  return list;
}

Json worst_json(const Dossier& dossier, const WorstPattern& worst) {
  Json cells = Json::array();
  for (const LiveForce& cell : worst.load.live) {
    cells.push_back(
        {{"block", assembly_of(dossier)->blocks[static_cast<std::size_t>(cell.block)].id},
         {"point", vector(cell.point)},
         {"force_n", vector(cell.force)}});
  }
  return {{"load_factor", number(worst.proof.load_factor)},
          {"load_factor_is_at_least", worst.proof.at_cap},
          {"began_with", worst.load.id},
          {"factors", worst.factors},
          {"settled", worst.settled},
          {"mechanism", worst.proof.limit_mechanism
                            ? Json(in_words(*assembly_of(dossier), *worst.proof.limit_mechanism))
                            : Json(nullptr)},
          {"cells", cells}};
}

Json reach_json(const Dossier& dossier) {
  const Assembly& assembly = *assembly_of(dossier);
  Json list = Json::array();
  for (const FootingReach& reach : dossier.reach) {
    const std::string joint = joint_name(assembly, reach.joint);
    list.push_back({{"block", assembly.blocks[static_cast<std::size_t>(reach.block)].id},
                    {"way", reach.way},
                    {"unit", reach.is_turn ? "rad" : "m"},
                    {"opens", reach.opens},
                    {"opens_beyond", reach.opens_beyond},
                    {"joint", joint.empty() ? Json(nullptr) : Json(joint)},
                    {"holds", reach.holds},
                    {"holds_beyond", reach.holds_beyond}});
  }
  return list;
}

Json depth_json(const Dossier& dossier) {
  const DepthNeeds& needs = *dossier.depth_needed;
  Json governing = nullptr, joint = nullptr, metres = nullptr;
  if (needs.governing >= 0) {
    const DepthNeed& need = needs.cases[static_cast<std::size_t>(needs.governing)];
    governing = need.id;
    if (need.joint >= 0) joint = joint_name(dossier.cut->assembly, need.joint);
    if (need.joint >= 0 && needs.share) {
      metres = needs.joint_depth_m[static_cast<std::size_t>(need.joint)];
    }
  }
  Json cases = Json::array(), unheld = Json::array();
  for (const DepthNeed& need : needs.cases) {
    cases.push_back({{"id", need.id}, {"share", number(need.share)}, {"at_most", need.at_most}});
  }
  for (const int i : needs.unheld) unheld.push_back(needs.cases[static_cast<std::size_t>(i)].id);
  return {{"live_factor", needs.live_factor},
          {"share", number(needs.share)},
          {"case", governing},
          {"joint", joint},
          {"metres", metres},
          {"unheld", unheld},
          {"cases", cases}};
}

Json states_json(const Dossier& dossier) {
  Json list = Json::array();
  for (const TriedState& state : dossier.tried) {
    list.push_back({{"what", state.what},
                    {"case", state.case_id},
                    {"holds", state.holds},
                    {"reason", state.reason},
                    {"peak_pa", state.peak_pa},
                    {"opening_max_m", state.opening_max_m},
                    {"move_max_m", state.move_max_m},
                    {"flattening", number(state.flattening)},
                    {"pressed", state.pressed},
                    {"in_steps", state.in_steps}});
  }
  return list;
}

Json envelopes_json(const Dossier& dossier) {
  const auto id = [&](int i) {
    return i < 0 ? Json(nullptr) : Json(dossier.proofs[static_cast<std::size_t>(i)].id);
  };
  const auto extreme = [&](const Extreme& e) {
    return Json{{"least", e.least},
                {"greatest", e.greatest},
                {"case_least", id(e.case_least)},
                {"case_greatest", id(e.case_greatest)}};
  };
  Json list = Json::array();
  for (const CourseEnvelope& e : dossier.envelopes) {
    list.push_back({{"arm", arm_name(dossier.brief, e.arm)},
                    {"course", e.course},
                    {"phi_m", e.phi_m},
                    {"depth_m", e.depth_m},
                    {"normal_n", extreme(e.normal_n)},
                    {"place", extreme(e.place)},
                    {"angle_deg", e.angle_deg},
                    {"case_angle", id(e.case_angle)}});
  }
  return list;
}

Json stand_json(const Dossier& dossier) {
  Json out = {{"governing", dossier.proofs[worst_first(dossier.proofs).front()].id}};
  if (dossier.depth_needed) out["depth_needed"] = depth_json(dossier);
  out["cases"] = cases_json(assembly_of(dossier), dossier.proofs, "evidence");
  for (std::size_t i = 0; i < dossier.notes.size() && i < dossier.proofs.size(); ++i) {
    const CaseNote& note = dossier.notes[i];
    out["cases"][i]["kind"] = note.kind == CaseKind::kPattern ? "pattern" : "combination";
    out["cases"][i]["words"] = note.words;
  }
  if (!dossier.tried.empty()) out["states"] = states_json(dossier);
  if (!dossier.envelopes.empty()) out["envelopes"] = envelopes_json(dossier);
  if (dossier.worst_pattern) out["worst_pattern"] = worst_json(dossier, *dossier.worst_pattern);
  if (!dossier.reach.empty()) out["reach"] = reach_json(dossier);
  if (dossier.moved) {
    const MovedFootings& moved = *dossier.moved;
    out["moved_footings"] = {{"shift_m", moved.shift_m}, {"live_factor", moved.live_factor},
                             {"cases", moved.cases},     {"states", moved.states},
                             {"held", moved.held},       {"in_steps", moved.in_steps},
                             {"peak_pa", moved.peak_pa}, {"worst", moved.worst},
                             {"let_go", moved.let_go},   {"rested", moved.rested},
                             {"over_stress", moved.over}};
  }
  return out;
}

}  // namespace

std::string summary_json(const Dossier& dossier, bool timings) {
  Json out;
  out["ok"] = dossier.all_required_pass();
  out["name"] = dossier.brief.name;
  if (dossier.form) {
    out["form"] = form_json(*dossier.form);
    out["form"]["move_last_m"] = dossier.form_move_m;
  }
  if (dossier.body) out["body"] = body_json(dossier);
  if (dossier.cut) out["cut"] = cut_json(dossier);
  if (!dossier.loads_left_out.empty()) out["loads_left_out"] = dossier.loads_left_out;
  out["required"] = required_json(dossier.required);
  if (!dossier.scope.empty()) out["scope"] = dossier.scope;
  if (!dossier.proofs.empty()) out["stand"] = stand_json(dossier);
  if (dossier.strength) out["strength"] = strength_json(dossier.cut->assembly, *dossier.strength);
  if (dossier.ground) out["ground"] = ground_json(dossier);
  if (dossier.print)
    out["print"] =
        print_json(dossier.brief, *dossier.print, dossier.spares ? &*dossier.spares : nullptr);
  if (dossier.access) out["access"] = access_json(*dossier.access);
  if (dossier.centring) out["centring"] = centring_json(*dossier.centring, dossier.self_held);
  if (dossier.programme) {
    out["erect"] = erect_json(dossier);
    if (dossier.lifts) out["lifting"] = lifting_json(*dossier.lifts);
    if (dossier.transport) out["transport"] = transport_json(*dossier.transport);
    if (dossier.spares) out["erect"].update(spares_json(dossier.brief, *dossier.spares));
  }
  if (dossier.tolerances) out["tolerances"] = tolerances_json(dossier.brief, *dossier.tolerances);
  if (dossier.refit) {
    out["survey"] = survey_json(dossier);
    out["survey"]["assembly"] = "asbuilt/assembly.json";
    out["survey"]["cases"] =
        cases_json(&dossier.refit->as_built, dossier.refit->proofs, "asbuilt/evidence");
  }
  if (!dossier.scans.empty()) out["scans"] = scans_json(dossier);
  if (dossier.quantities) {
    out["quantities"] = quantities_json(*dossier.quantities);
    if (dossier.centring && !dossier.centring->sheets.empty())
      out["quantities"]["plywood_m2"] = static_cast<double>(dossier.centring->sheets.size()) *
                                        dossier.brief.centring.sheet_length_m *
                                        dossier.brief.centring.sheet_width_m;
  } else if (dossier.cut) {
    out["quantities"] = {{"concrete_m3", totals(dossier.cut->assembly).volume_m3}};
    if (dossier.ground)
      out["quantities"]["steel_kg"] = tie_steel_kg(dossier.brief, *dossier.ground);
  }
  if (!dossier.modes.empty() || dossier.proof_load) out["service"] = service_json(dossier);
  if (timings) out["timings_s"] = dossier.timings_s;
  return out.dump(2) + "\n";
}

}  // namespace skewback
