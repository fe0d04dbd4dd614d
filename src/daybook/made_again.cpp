#include "daybook/made_again.hpp"

#include <algorithm>

#include "daybook/activity_kinds.hpp"
#include "daybook/copies.hpp"

namespace skewback {
namespace {

/// All zero where the plan does not say what of it is which.
PlannedBreakage new_one(const DayPlan& plan, const std::string& block) {
  const auto it = std::ranges::find(plan.breakages, "place " + block, &PlannedBreakage::place);
  const bool told = it != plan.breakages.end() && it->cure_s + it->journey_s > 0;
  return told ? *it : PlannedBreakage{};
}

void take_exactly(Activity& a, double seconds) { a.least_s = a.likely_s = a.most_s = seconds; }

}  // namespace

bool plan_makes(const DayPlan& plan, const std::string& block) {
  return std::ranges::any_of(plan.network->activities,
                             [&](const Activity& a) { return a.block == block && is_made(a); });
}

Activity made_once_more(const DayPlan& plan, const std::string& block) {
  Activity again;
  for (const Activity& a : plan.network->activities) {
    if (a.block != block || !is_made(a) || copy_of(a) != 1) continue;
    if (again.id.empty()) again = activity(a.kind + " " + block + " once more", block, a.kind);
    add_times(again, a);
  }
  if (!again.id.empty()) return again;
  again = activity("print " + block + " once more", block, "print");
  const PlannedBreakage b = new_one(plan, block);
  take_exactly(again, std::max(0.0, b.again_s - b.cure_s - b.journey_s));
  return again;
}

Activity cured_once_more(const DayPlan& plan, const std::string& block, const std::string& id) {
  Activity cure = activity(id, block, "cure");
  for (const Activity& a : plan.network->activities)
    if (a.block == block && a.kind == "cure" && copy_of(a) == 1) add_times(cure, a);
  if (!plan_makes(plan, block)) take_exactly(cure, new_one(plan, block).cure_s);
  return cure;
}

}  // namespace skewback
