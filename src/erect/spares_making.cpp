#include <algorithm>
#include <cmath>
#include <map>

#include "erect/spares_parts.hpp"

namespace skewback {
namespace {

// Ours, no source: printing is seldom much quicker than planned, and now and then much slower; a
// cast block takes a day of the mould.
constexpr double kQuicker = 0.9, kSlower = 1.5;
constexpr double kMould_s = kDay_s;

Making printed(const PrintRequest& cell, double on_calendar_s, double again_s) {
  return {"print",      kQuicker * on_calendar_s, on_calendar_s, kSlower * on_calendar_s,
          (kQuicker + 4 + kSlower) / 6 * again_s, cell.curing_s};
}

/// Days of the calendar that each working day of the order stands for: one, or more where a block
/// is printed round the clock.
std::map<int, int> lengths_of_days(const PrintSet& print) {
  std::map<int, int> length;
  for (const PrintSlot& slot : print.order) length[slot.day] = 1;
  for (auto day = length.begin(); day != length.end(); ++day) {
    const auto next = std::next(day);
    day->second = (next == length.end() ? print.days + 1 : next->first) - day->first;
  }
  return length;
}

}  // namespace

std::vector<Making> makings(const Brief& brief, const Assembly& assembly, const PrintSet* print) {
  std::vector<Making> result(assembly.blocks.size());
  if (print == nullptr) return result;
  const PrintRequest& cell = brief.print;
  std::vector<double> work_s(assembly.blocks.size(), 0.0);
  for (const BlockPrint& block : print->blocks) {
    const auto i = static_cast<std::size_t>(block.block);
    work_s[i] = block.time_s + cell.setting_up_s;
    result[i] = {"cast", kMould_s, kMould_s, kMould_s, kMould_s, cell.curing_s};
  }
  std::map<int, double> day_work_s;
  for (const PrintSlot& slot : print->order)
    day_work_s[slot.day] += work_s[static_cast<std::size_t>(slot.block)];
  const std::map<int, int> length = lengths_of_days(*print);
  for (const PrintSlot& slot : print->order) {
    const auto i = static_cast<std::size_t>(slot.block);
    const double day_s = kDay_s * std::max(1, length.at(slot.day));
    // round the clock where it does not go into a shift, as the order of printing has it
    const double alone_s = work_s[i] <= cell.shift_s ? work_s[i] * kDay_s / cell.shift_s
                                                     : kDay_s * std::ceil(work_s[i] / kDay_s);
    result[i] = printed(cell, day_s * work_s[i] / day_work_s[slot.day], alone_s);
  }
  return result;
}

}  // namespace skewback
