#include <nlohmann/json.hpp>

#include "deliver/csv.hpp"
#include "deliver/gentler.hpp"
#include "deliver/json_parts.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

using Json = nlohmann::ordered_json;

std::string cell(const std::optional<double>& value, int decimals) {
  return value ? fixed(*value, decimals) : "";
}
std::string yes(bool value) { return value ? "yes" : "no"; }
}  // namespace

std::string gentler_csv(const GentlerStudy& study) {
  std::string text = csv_line({"deck",         "rise_m",          "gradient",
                               "gradient_met", "step_free",       "steps_m",
                               "approach_m",   "frame_kg",        "frame_kg_per_m2",
                               "timber_kg",    "thrust_kn",       "footing_thrust_kn",
                               "tie_steel_kg", "depth_needed_mm", "blocks",
                               "concrete_kg",  "carbon_kg_co2e",  "money",
                               "live_factor",  "at_least",        "stands",
                               "holds",        "why_not"});
  for (const GentlerRow& r : study.rows) {
    if (!r.failed.empty()) {
      std::vector<std::string> row{word(r.kind), fixed(r.rise_m, 4)};
      row.resize(22);
      row[20] = row[21] = "no";
      row.push_back(r.failed);
      text += csv_line(row);
      continue;
    }
    std::optional<double> depth_mm;
    if (r.depth_needed_m) depth_mm = 1000 * *r.depth_needed_m;
    text += csv_line({word(r.kind),
                      fixed(r.rise_m, 4),
                      fixed(r.gradient, 5),
                      yes(r.gradient_met),
                      yes(r.step_free),
                      fixed(r.steps_m, 3),
                      fixed(r.approach_m, 2),
                      fixed(r.frame_kg, 1),
                      fixed(r.frame_kg_per_m2, 2),
                      fixed(r.timber_kg, 1),
                      fixed(r.thrust_n / 1000, 3),
                      fixed(r.footing_thrust_n / 1000, 3),
                      fixed(r.tie_steel_kg, 2),
                      cell(depth_mm, 1),
                      std::to_string(r.blocks),
                      fixed(r.concrete_kg, 1),
                      fixed(r.carbon_kg, 1),
                      cell(r.money, 2),
                      cell(r.live_factor, 4),
                      r.live_factor ? yes(r.live_at_least) : "",
                      yes(r.stands),
                      yes(r.holds),
                      r.why_not});
  }
  return text;
}

std::string gentler_json(const GentlerStudy& study) {
  Json rows = Json::array();
  for (const GentlerRow& r : study.rows) {
    Json row{{"deck", word(r.kind)}, {"rise_m", r.rise_m}};
    if (!r.failed.empty()) {
      row["failed"] = r.failed;
      rows.push_back(std::move(row));
      continue;
    }
    row.update({{"gradient", r.gradient},
                {"gradient_met", r.gradient_met},
                {"step_free", r.step_free},
                {"steps_m", r.steps_m},
                {"approach_m", r.approach_m},
                {"frame_kg", r.frame_kg},
                {"frame_kg_per_m2", r.frame_kg_per_m2},
                {"timber_kg", r.timber_kg},
                {"thrust_n", r.thrust_n},
                {"footing_thrust_n", r.footing_thrust_n},
                {"tie_steel_kg", r.tie_steel_kg},
                {"depth_needed_m", number(r.depth_needed_m)},
                {"depth_share", number(r.depth_share)},
                {"blocks", r.blocks},
                {"concrete_kg", r.concrete_kg},
                {"carbon_kg_co2e", r.carbon_kg},
                {"money", number(r.money)},
                {"live_factor", number(r.live_factor)},
                {"live_factor_at_least", r.live_at_least},
                {"stands", r.stands},
                {"holds", r.holds},
                {"why_not", r.why_not}});
    rows.push_back(std::move(row));
  }
  return Json{{"title", study.title},
              {"currency", study.currency},
              {"gradient_limit", study.gradient_limit},
              {"rows", std::move(rows)},
              {"remarks", study.remarks}}
             .dump(2) +
         "\n";
}

}  // namespace skewback::deliver
