#pragma once
// What an activity of the programme is to the daybook. Private to daybook/.

#include <string>

#include "daybook/plan.hpp"

namespace skewback {

[[nodiscard]] Activity activity(const std::string& id, const std::string& block,
                                const std::string& kind);
void finish(Activity& a, double finish_s);
void add_times(Activity& to, const Activity& from);

[[nodiscard]] bool is_journey(const Activity& a);
/// On the table, or in a mould.
[[nodiscard]] bool is_made(const Activity& a);
/// How many activities may come before it beyond those of the plan.
[[nodiscard]] std::size_t room_before(const Activity& a);
/// One after the other whatever of it is done: the table's work; and the works on site.
[[nodiscard]] bool same_chain(const Activity& a, const Activity& b);
/// Of the block, in the plan: 2 with a spare.
[[nodiscard]] int planned_copies(const DayPlan& plan, const std::string& block);

}  // namespace skewback
