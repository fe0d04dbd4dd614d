#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "deliver/json_parts.hpp"
#include "deliver/print_poses.hpp"

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
      {"stops", stops(block)},
      {"normal_to_thrust_deg", angle(block.normal_to_thrust_rad)},
      {"normal_to_thrust_max_deg", angle(block.normal_to_thrust_max_rad)},
      {"normal_to_thrust_case", block.normal_to_thrust_case},
      {"checks", checks_json(block.checks)},
      {"poses", block.poses.size()},
      {"files", block.poses.empty() || !block.printable ? Json(nullptr) : Json("print/" + stem)}};
}

Json order_json(const PrintSet& print) {
  Json order = Json::array();
  for (const PrintSlot& slot : print.order) {
    const auto block = std::ranges::find(print.blocks, slot.block, &BlockPrint::block);
    order.push_back({{"id", block == print.blocks.end() ? "" : block->id},
                     {"day", slot.day},
                     {"start_s", slot.start_s},
                     {"ready_day", slot.ready_day}});
  }
  return order;
}

}  // namespace

Json print_json(const PrintSet& print) {
  Json blocks = Json::array(), batches = Json::array();
  const std::vector<std::string> stems = print_stems(print);
  for (std::size_t i = 0; i < print.blocks.size(); ++i)
    blocks.push_back(block_json(print.blocks[i], stems[i]));
  for (const Batch& batch : print.batches) {
    batches.push_back(
        {{"blocks", batch.blocks}, {"volume_m3", batch.volume_m3}, {"coupons", batch.coupons}});
  }
  return {{"blocks", std::move(blocks)},
          {"print_h", print.print_s / 3600},
          {"days", print.days},
          {"batches", std::move(batches)},
          {"normal_to_thrust_median_deg", degrees(print.normal_to_thrust_median_rad)},
          {"order", order_json(print)},
          {"remarks", print.remarks}};
}

}  // namespace skewback::deliver
