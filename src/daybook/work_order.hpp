#pragma once
// Which works of the site come before which. Private to daybook/.

#include "daybook/life.hpp"

namespace skewback {

/// What is not there yet that the plan has before a work of no block: blocks not in place, works
/// that come after blocks are placed and are not recorded as done. In words; empty: nothing.
[[nodiscard]] std::string missing_before(const DayPlan& plan, const std::vector<CopyLife>& lives,
                                         const std::vector<BlockEvent>& in_force,
                                         const std::string& work);

}  // namespace skewback
