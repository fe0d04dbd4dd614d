#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "deliver/print_sheets.hpp"
#include "deliver/report_print.hpp"
#include "deliver/text.hpp"

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

std::string in_words(double value, const std::string& unit) {
  if (unit == "m") return fixed(1000 * value, std::abs(value) < 0.02 ? 2 : 1) + " mm";
  if (unit == "rad") return fixed(value * 180 / kPi, 1) + " degrees";
  if (unit == "rad/s") return fixed(value * 180 / kPi, 1) + " degrees/s";
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
    return "The bed printed last is ground flat once the block has hardened." + to;
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
