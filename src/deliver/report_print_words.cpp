#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "deliver/print_sheets.hpp"
#include "deliver/report_print.hpp"
#include "deliver/text.hpp"
#include "erect/dates.hpp"

namespace skewback::deliver {
namespace {

/// Over 1 beyond the limit.
double use(const PrintCheck& check) {
  const double over = check.at_least ? check.limit : check.value;
  const double under = check.at_least ? check.value : check.limit;
  if (under > 0) return over / under;
  return check.passes() ? 0 : 1e9;
}

}  // namespace

std::string print_summary(const PrintSet& set) {
  const auto n = [&](Made kind) {
    return static_cast<std::size_t>(
        std::ranges::count_if(set.blocks, [&](const BlockPrint& b) { return made(b) == kind; }));
  };
  const std::size_t printed = n(Made::kBedToBed) + n(Made::kFlat);
  std::string text = std::to_string(printed) + " of " + counted(set.blocks.size(), "block") +
                     " can be printed: " + std::to_string(n(Made::kBedToBed)) +
                     " from bed to bed, " + std::to_string(n(Made::kFlat)) + " flat. " +
                     std::to_string(n(Made::kCast)) + " cast; " + std::to_string(n(Made::kNot)) +
                     " neither.";
  if (set.print_s > 0) {
    text += " " + fixed(set.print_s / 3600, 1) + " h of the nozzle in " +
            counted(static_cast<std::size_t>(std::max(0, set.days)), "working day") + ", " +
            std::to_string(set.batches.size()) + (set.batches.size() == 1 ? " mix." : " mixes.");
  }
  return text;
}

double mix_used_m3(const PrintPlan& plan) {
  double sum = 0;
  for (const Batch& batch : plan.batches) sum += batch.volume_m3;
  return sum;
}

std::string mixes_words(const PrintRequest& cell, const PrintPlan& plan) {
  return std::to_string(plan.batches.size()) + (plan.batches.size() == 1 ? " mix" : " mixes") +
         ", of which blocks and test pieces take " + fixed(1000 * mix_used_m3(plan), 0) +
         " L; full batches of " + fixed(1000 * cell.batch_m3, 0) + " L would be " +
         fixed(1000 * static_cast<double>(plan.batches.size()) * cell.batch_m3, 0) +
         " L. What hose and mixer hold is not in it.";
}

std::string low_flow_words(const PrintRequest& cell, const PrintSet& set) {
  const double mix = 6e4 / (1 + cell.accelerator);  // L/min of the pump, from m3/s of the nozzle
  const BlockPrint *least = nullptr, *longest = nullptr;
  for (const BlockPrint& b : set.blocks) {
    if (!b.printable || b.poses.empty()) continue;
    if (!least || flow_range(b).least_m3_s < flow_range(*least).least_m3_s) least = &b;
    if (!longest || flow_range(b).low_m > flow_range(*longest).low_m) longest = &b;
  }
  if (!least) return "";
  const FlowRange low = flow_range(*least), way = flow_range(*longest);
  std::string text = "The pump goes down to " + fixed(mix * low.least_m3_s, 3) + " L/min (" +
                     least->id + "), from " + fixed(mix * low.greatest_m3_s, 2) + ". ";
  if (!(way.low_m > 0)) return text + "No path is laid at less than a tenth of its greatest flow.";
  return text + "In a block at most " + fixed(way.low_m, 2) + " m of path (" + longest->id +
         ") are laid at less than a tenth of its greatest flow: where one layer rises out of the "
         "last, or runs out. Where a pump cannot go so low, that end has to be cut off or made up "
         "by hand: try it first.";
}

std::string boards_words(const Brief& brief, const PrintSet& set, const PrintPlan& plan) {
  const ProgrammeRequest& p = brief.programme;
  const bool dates = has_dates(brief);
  const OnBoards most = most_on_boards(set, plan, days_of_printing(brief, set, plan));
  if (most.blocks == 0) return "";
  const std::string when =
      dates ? "on " + date_after(p.start, 86400.0 * static_cast<double>(most.day))
            : "on day " + std::to_string(most.day + 1) + " of the calendar";
  const double table_m2 = brief.print.table_length_m * brief.print.table_width_m;
  if (most.blocks == 1) return "No block is printed while another cures: all stay on the table.";
  return "One table, freed before a block has cured: blocks are moved off it on their boards, " +
         std::to_string(most.blocks) + " boards at once (" + when + "), on " +
         fixed(most.floor_m2, 1) +
         " m2 of floor, the rectangles round the blocks without room "
         "between them (the table: " +
         fixed(table_m2, 1) + " m2). Moving a fresh block on its board is not checked.";
}

std::string in_words(double value, const std::string& unit) {
  if (unit == "m") return fixed(1000 * value, std::abs(value) < 0.02 ? 2 : 1) + " mm";
  if (unit == "rad") return fixed(value * 180 / kPi, 1) + " degrees";
  if (unit == "rad/s") return fixed(value * 180 / kPi, 1) + " degrees/s";
  if (unit == "degrees" || unit == "degrees/s") return fixed(value, 1) + " " + unit;
  if (unit == "m/s") return fixed(1000 * value, 0) + " mm/s";
  if (unit == "Pa") return fixed(value / 1000, 2) + " kPa";
  if (unit == "s") return fixed(value, 0) + " s";
  if (unit.empty()) return fixed(value, 3);
  return fixed(value, 3) + " " + unit;
}

const PrintCheck* worst_check(const BlockPrint& block) {
  const PrintCheck* worst = nullptr;
  for (const PrintCheck& check : block.checks) {
    if (check.sought && check.passes()) continue;
    if (worst == nullptr || use(check) > use(*worst)) worst = &check;
  }
  return worst;
}

std::string far_bed_words(const PrintRequest& cell) {
  const std::string to = " It must then lie within " + fixed(1000 * cell.bed_accuracy_m, 1) +
                         " mm of its plane: measure it before the block leaves the table.";
  if (cell.far_bed == "ground")
    return (cell.grind_allowance_m > 0
                ? "The bed printed last is printed " + fixed(1000 * cell.grind_allowance_m, 1) +
                      " mm over its plane and ground back to it once the block has hardened "
                      "(allowance: common practice, without a source)."
                : std::string("The bed printed last is ground flat once the block has hardened, "
                              "without an allowance: it comes out short by what is ground off.")) +
           to;
  if (cell.far_bed == "levelled")
    return "The bed printed last is levelled while the last layer is fresh, along a rule or with "
           "the side of the nozzle." +
           to;
  if (cell.far_bed == "pad")
    return "The bed printed last stays as it is; the pad, or a bed of mortar under it, takes up "
           "what is uneven." +
           to;
  return "The bed printed last stays as printed." + to;
}

}  // namespace skewback::deliver
