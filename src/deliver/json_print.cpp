#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "deliver/json_parts.hpp"
#include "deliver/print_poses.hpp"
#include "deliver/report_print.hpp"
#include "erect/dates.hpp"

namespace skewback::deliver {
namespace {

using Json = nlohmann::ordered_json;

double degrees(double rad) { return rad * 180 / kPi; }

Json checks_json(const std::vector<PrintCheck>& checks) {
  Json list = Json::array();
  for (const PrintCheck& check : checks) {
    list.push_back({{"name", check.name},
                    {"value", check.value},
                    {"limit", check.limit},
                    {"at_least", check.at_least},
                    {"unit", check.unit},
                    {"passes", check.passes()},
                    {"place", check.place},
                    {"change", check.change}});
  }
  return list;
}

Json block_json(const BlockPrint& block, const std::string& stem) {
  const bool laid_out = block.way == PrintWay::kBedToBed && !block.layers.empty();
  const FlowRange flow = flow_range(block);
  const auto angle = [&](double rad) { return laid_out ? Json(degrees(rad)) : Json(nullptr); };
  return {
      {"id", block.id},
      {"layers", block.layers.size()},
      {"layer_min_m", block.layer_min_m},
      {"layer_max_m", block.layer_max_m},
      {"overhang_max_deg", degrees(block.overhang_max_rad)},
      {"path_m", block.path_m},
      {"time_s", block.time_s},
      {"volume_m3", block.volume_m3},
      {"printable", block.printable},
      {"way", word(block.way)},
      {"reason", block.reason},
      {"field", block.field},
      {"on_table", block.on_table},
      {"stand_deg", degrees(block.stand_rad)},
      {"solid_m3", block.solid_m3},
      {"far_bed_error_m", block.far_bed_error_m},
      {"grind_m", block.grind_m},
      {"ground_m3", block.ground_m3},
      {"stops", stops(block)},
      {"turns", block.turns},
      {"flow_min_l_min", 6e4 * flow.least_m3_s},
      {"flow_max_l_min", 6e4 * flow.greatest_m3_s},
      {"low_flow_m", flow.low_m},
      {"normal_to_thrust_deg", angle(block.normal_to_thrust_rad)},
      {"normal_to_thrust_max_deg", angle(block.normal_to_thrust_max_rad)},
      {"normal_to_thrust_case", block.normal_to_thrust_case},
      {"checks", checks_json(block.checks)},
      {"poses", block.poses.size()},
      {"files", block.poses.empty() || !block.printable ? Json(nullptr) : Json("print/" + stem)}};
}

/// Dates are null where the brief has no programme.
Json order_json(const Brief& brief, const PrintSet& print, const PrintPlan& plan) {
  const ProgrammeRequest& p = brief.programme;
  const bool dates = has_dates(brief);
  const std::vector<PrintingDays> days = days_of_printing(brief, print, plan);
  const auto date = [&](long day) {
    return dates ? Json(date_after(p.start, 86400.0 * static_cast<double>(day))) : Json(nullptr);
  };
  Json order = Json::array();
  for (std::size_t i = 0; i < plan.order.size(); ++i) {
    const PrintSlot& slot = plan.order[i];
    const auto block = std::ranges::find(print.blocks, slot.block, &BlockPrint::block);
    order.push_back({{"id", block->id},
                     {"spare", slot.again},
                     {"working_day", slot.day},
                     {"date", date(days[i].printed)},
                     {"start_s", slot.start_s},
                     {"lift_after_calendar_days", days[i].lifted - days[i].printed},
                     {"lift_date", date(days[i].lifted)}});
  }
  return order;
}

Json boards_json(const Brief& brief, const PrintSet& print, const PrintPlan& plan) {
  const ProgrammeRequest& p = brief.programme;
  const bool dates = has_dates(brief);
  const OnBoards most = most_on_boards(print, plan, days_of_printing(brief, print, plan));
  return {{"blocks", most.blocks},
          {"floor_m2", most.floor_m2},
          {"day", most.day + 1},
          {"date", dates && most.blocks > 0
                       ? Json(date_after(p.start, 86400.0 * static_cast<double>(most.day)))
                       : Json(nullptr)}};
}

}  // namespace

Json print_json(const Brief& brief, const PrintSet& print, const Spares* spares) {
  const PrintPlan& plan = printed_with_spares(print, spares);
  Json blocks = Json::array(), batches = Json::array();
  const std::vector<std::string> stems = print_stems(print);
  for (std::size_t i = 0; i < print.blocks.size(); ++i)
    blocks.push_back(block_json(print.blocks[i], stems[i]));
  for (const Batch& batch : plan.batches) {
    batches.push_back({{"blocks", batch.blocks},
                       {"volume_m3", batch.volume_m3},
                       {"coupons", batch.coupons},
                       {"working_day", batch.day},
                       {"from_s", batch.from_s},
                       {"to_s", batch.to_s}});
  }
  return {
      {"blocks", std::move(blocks)},
      {"print_h", plan.print_s / 3600},
      {"days", plan.days},
      {"batches", std::move(batches)},
      {"mix_used_m3", mix_used_m3(plan)},
      {"mix_of_full_batches_m3", static_cast<double>(plan.batches.size()) * brief.print.batch_m3},
      {"on_boards", boards_json(brief, print, plan)},
      {"normal_to_thrust_median_deg", degrees(print.normal_to_thrust_median_rad)},
      {"order", order_json(brief, print, plan)},
      {"remarks", print.remarks}};
}

}  // namespace skewback::deliver
