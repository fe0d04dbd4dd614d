#include "deliver/json_parts.hpp"

namespace skewback::deliver {

using Json = nlohmann::ordered_json;

Json quantities_json(const Quantities& q) {
  Json lines = Json::array();
  for (const QuantityLine& line : q.lines) {
    lines.push_back({{"what", line.what},
                     {"amount", line.amount},
                     {"unit", line.unit},
                     {"mass_kg", line.mass_kg},
                     {"co2e_kg", line.carbon_kg},
                     {"money", line.money ? Json(*line.money) : Json(nullptr)},
                     {"moved_by", line.moved_by},
                     {"source", line.source}});
  }
  return {{"concrete_m3", q.concrete_m3},
          {"steel_kg", q.steel_kg},
          {"plywood_m2", nullptr},
          {"co2e_kg", q.carbon_kg[1]},
          {"co2e_range_kg", {q.carbon_kg[0], q.carbon_kg[2]}},
          {"money", q.money ? Json(*q.money) : Json(nullptr)},
          {"not_priced", q.not_priced},
          {"deck_m2", q.deck_m2},
          {"lorries", q.lorries},
          {"path_m", q.print ? Json(q.print->path_m) : Json(nullptr)},
          {"print_h", q.print ? Json(q.print->print_s / 3600) : Json(nullptr)},
          {"mix_m3", q.print ? Json(q.print->mix_m3) : Json(nullptr)},
          {"solid_slab_ratio", q.concrete_ratio},
          {"solid_slab_steel_ratio", q.steel_ratio},
          {"solid_slab",
           {{"span_m", q.slab.span_m},
            {"depth_m", q.slab.depth_m},
            {"moment_nm_per_m", q.slab.moment_nm_per_m},
            {"main_bars_mm2_per_m", q.slab.steel_mm2_per_m},
            {"concrete_m3", q.slab.concrete_m3},
            {"steel_kg", q.slab.steel_kg}}},
          {"lines", lines},
          {"remarks", q.remarks}};
}

namespace {

Json modes_json(const std::vector<Mode>& modes) {
  Json list = Json::array();
  for (const Mode& mode : modes) {
    list.push_back(
        {{"hz", mode.hz}, {"share_xyz", {mode.share.x(), mode.share.y(), mode.share.z()}}});
  }
  return list;
}

}  // namespace

Json service_json(const Dossier& dossier) {
  Json out = {{"modes", modes_json(dossier.modes)},
              {"modes_people", modes_json(dossier.modes_full)},
              {"modes_assume", "every joint closed and sticking"}};
  if (!dossier.proof_load) return out;
  const ProofLoad& plan = *dossier.proof_load;
  Json steps = Json::array();
  for (const ProofLoad::Step& step : plan.steps) {
    steps.push_back({{"share", step.share},
                     {"found", step.found},
                     {"crown_drop_m", step.crown_drop_m},
                     {"opening_m", step.opening_m},
                     {"rod_most_n", step.tie_most_n},
                     {"tie", step.tie}});
  }
  out["proof_load"] = {{"case", plan.case_id},
                       {"load_n", plan.load_n},
                       {"crown", plan.crown},
                       {"on_ties", plan.on_ties},
                       {"steps", steps}};
  return out;
}

}  // namespace skewback::deliver
