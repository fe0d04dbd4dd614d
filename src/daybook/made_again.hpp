#pragma once
// What another copy of a block takes. Private to daybook/.

#include <string>

#include "daybook/plan.hpp"

namespace skewback {

/// The plan prints or casts it: it is not there already.
[[nodiscard]] bool plan_makes(const DayPlan& plan, const std::string& block);
/// "print s3 once more", times of the plan's own making; where the plan does not make it, of what
/// its breakage says a new one takes without curing and journey.
[[nodiscard]] Activity made_once_more(const DayPlan& plan, const std::string& block);
/// Likewise its curing, called `id`.
[[nodiscard]] Activity cured_once_more(const DayPlan& plan, const std::string& block,
                                       const std::string& id);

}  // namespace skewback
