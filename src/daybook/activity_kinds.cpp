#include "daybook/activity_kinds.hpp"

#include <algorithm>

#include "daybook/copies.hpp"

namespace skewback {

Activity activity(const std::string& id, const std::string& block, const std::string& kind) {
  Activity a;
  a.id = id;
  a.block = block;
  a.kind = kind;
  return a;
}

void finish(Activity& a, double finish_s) {
  a.started = a.done = true;
  a.finish_s = finish_s;
}

void add_times(Activity& to, const Activity& from) {
  to.least_s += from.least_s;
  to.likely_s += from.likely_s;
  to.most_s += from.most_s;
}

bool is_journey(const Activity& a) { return a.kind == "journey"; }
bool is_made(const Activity& a) {
  return !a.block.empty() && a.kind != "place" && a.kind != "cure" && !is_journey(a);
}

std::size_t room_before(const Activity& a) {
  if (a.kind == "place") return 3;
  return is_journey(a) || (is_made(a) && copy_of(a) == 1) ? 1 : 0;
}

bool same_chain(const Activity& a, const Activity& b) {
  const auto in_one = [](const Activity& x) { return x.kind != "cure" && !is_journey(x); };
  return in_one(a) && in_one(b) && is_made(a) == is_made(b);
}

int planned_copies(const DayPlan& plan, const std::string& block) {
  bool made = false;
  for (const Activity& a : plan.network->activities) {
    if (a.block != block) continue;
    if (copy_of(a) == 2) return 2;
    made = made || is_made(a);
  }
  // of what is not made by this plan a spare is nowhere in it
  return !made && std::ranges::any_of(plan.breakages,
                                      [&](const PlannedBreakage& b) {
                                        return b.spare && b.place == "place " + block;
                                      })
             ? 2
             : 1;
}

}  // namespace skewback
