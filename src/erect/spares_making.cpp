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

Vec3 of_printing(double planned_s) { return planned_s * Vec3(kQuicker, 1, kSlower); }

/// With the table free; round the clock where it does not go into a shift, as the order of
/// printing has it.
Vec3 printed_alone(const PrintRequest& cell, double nozzle_s) {
  const double work_s = nozzle_s + cell.setting_up_s;
  return of_printing(work_s <= cell.shift_s ? work_s * kDay_s / cell.shift_s
                                            : kDay_s * std::ceil(work_s / kDay_s));
}

/// Days of the calendar that each working day of the order stands for: one, or more where a block
/// is printed round the clock.
std::map<int, int> lengths_of_days(const PrintPlan& print) {
  std::map<int, int> length;
  for (const PrintSlot& slot : print.order) length[slot.day] = 1;
  for (auto day = length.begin(); day != length.end(); ++day) {
    const auto next = std::next(day);
    day->second = (next == length.end() ? print.days + 1 : next->first) - day->first;
  }
  return length;
}

}  // namespace

std::vector<Vec3> printing_times(const PrintRequest& cell, const PrintSet& set,
                                 const PrintPlan& plan) {
  std::map<int, double> work_s, day_work_s;
  for (const BlockPrint& block : set.blocks) work_s[block.block] = block.time_s + cell.setting_up_s;
  for (const PrintSlot& slot : plan.order) day_work_s[slot.day] += work_s[slot.block];
  const std::map<int, int> length = lengths_of_days(plan);
  std::vector<Vec3> times;
  for (const PrintSlot& slot : plan.order)
    times.push_back(of_printing(kDay_s * std::max(1, length.at(slot.day)) * work_s[slot.block] /
                                day_work_s[slot.day]));
  return times;
}

std::vector<Making> makings(const Brief& brief, const Assembly& assembly, const PrintSet* print) {
  std::vector<Making> result(assembly.blocks.size());
  if (print == nullptr) return result;
  const PrintRequest& cell = brief.print;
  for (std::size_t i = 0; i < result.size(); ++i)  // what is there already
    if (const Block& block = assembly.blocks[i]; !block.fixed)
      result[i] = {"", Vec3::Zero(), printed_alone(cell, block.mass.volume / cell.flow_m3_s),
                   cell.curing_s};
  for (const BlockPrint& block : print->blocks)
    result[static_cast<std::size_t>(block.block)] = {"cast", Vec3::Constant(kMould_s),
                                                     Vec3::Constant(kMould_s), cell.curing_s};
  const std::vector<Vec3> times = printing_times(cell, *print, *print);
  for (std::size_t k = 0; k < times.size(); ++k) {
    const int index = print->order[k].block;
    const auto block = std::ranges::find(print->blocks, index, &BlockPrint::block);
    result[static_cast<std::size_t>(index)] = {"print", times[k],
                                               printed_alone(cell, block->time_s), cell.curing_s};
  }
  return result;
}

}  // namespace skewback
