#include "erect/printing_days.hpp"

#include <algorithm>
#include <cmath>

#include "erect/spares_parts.hpp"

namespace skewback {
namespace {

double floor_under_m2(const BlockPrint& block) {
  Eigen::AlignedBox2d box;
  for (std::size_t i = 0; i + 1 < block.poses.size(); ++i) {
    const Vec2 half = Vec2::Constant(width_m(block.poses[i]) / 2);
    if (half.x() <= 0) continue;
    for (const Pose& pose : {block.poses[i], block.poses[i + 1]}) {
      box.extend(Vec2(pose.tip.head<2>() - half));
      box.extend(Vec2(pose.tip.head<2>() + half));
    }
  }
  return box.isEmpty() ? 0 : box.volume();
}

}  // namespace

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

OnBoards most_on_boards(const PrintSet& set, const PrintPlan& plan,
                        const std::vector<PrintingDays>& days) {
  OnBoards most;
  for (const PrintingDays& from : days) {
    OnBoards now;
    now.day = from.printed;
    for (std::size_t i = 0; i < days.size(); ++i) {
      if (days[i].printed > now.day || days[i].lifted <= now.day) continue;
      ++now.blocks;
      now.floor_m2 +=
          floor_under_m2(*std::ranges::find(set.blocks, plan.order[i].block, &BlockPrint::block));
    }
    if (now.blocks > most.blocks) most = now;
  }
  return most;
}

}  // namespace skewback
