#include "erect/printing_days.hpp"

#include <algorithm>
#include <cmath>

#include "erect/spares_parts.hpp"

namespace skewback {

std::vector<PrintingDays> printing_days(const PrintRequest& request, const PrintSet& set,
                                        const PrintPlan& plan, const Calendar& calendar) {
  std::vector<PrintingDays> days;
  for (const PrintSlot& slot : plan.order) {
    const auto block = std::ranges::find(set.blocks, slot.block, &BlockPrint::block);
    PrintingDays on;
    on.printed =
        static_cast<long>(std::floor(calendar.finish(0, (slot.day - 0.5) * kDay_s) / kDay_s));
    const double begun_s = static_cast<double>(on.printed) * kDay_s + slot.start_s;
    const bool within_a_day = slot.start_s + block->time_s <= kDay_s;
    const double made_s =
        within_a_day ? begun_s + block->time_s : calendar.finish(begun_s, block->time_s);
    on.lifted = day_of_lift(made_s + request.curing_s, request.shift_s) - 1;
    days.push_back(on);
  }
  return days;
}

}  // namespace skewback
