#include "daybook/once_more.hpp"

#include <algorithm>

#include "daybook/activity_kinds.hpp"

namespace skewback {

OnceMore stand_again(const DayPlan& plan, std::vector<Activity>& activities,
                     std::optional<double> put_back_s, bool placed_again) {
  const auto first = [&](const std::string& kind) -> Activity* {
    const auto it = std::ranges::find(activities, work_of_kind(plan, kind), &Activity::id);
    return it == activities.end() ? nullptr : &*it;
  };
  Activity* const struck = first("striking");
  Activity* const centring = first("centring");
  Activity* const walkway = first("walkway");
  OnceMore out;
  const auto again = [&](Activity* work) {
    if (work == nullptr) return;
    work->started = work->done = false;
    out.works.push_back(work->id);
  };
  if (put_back_s) {
    if (centring != nullptr) finish(*centring, *put_back_s);
    again(struck);
    return out;
  }
  if (struck == nullptr || !struck->done || !placed_again) return out;
  if (walkway != nullptr && walkway->done) out.without_times.emplace_back(kWalkwayUp);
  if (centring == nullptr) out.without_times.emplace_back(kCentringBack);
  for (Activity* const work : {centring, struck, walkway}) again(work);
  return out;
}

}  // namespace skewback
