#pragma once
// Works of the site, which are of no block: which are done, and which come before which. Pure.

#include "daybook/life.hpp"

namespace skewback {

/// By which a work is done as things are: none where it was undone since (`undone_by`), too.
[[nodiscard]] std::optional<BlockEvent> done_as_it_is(const DayPlan& plan,
                                                      const std::vector<BlockEvent>& in_force,
                                                      const std::string& work);
[[nodiscard]] std::optional<BlockEvent> done_of_kind(const DayPlan& plan,
                                                     const std::vector<BlockEvent>& in_force,
                                                     const std::string& kind);
/// Works done as things are that the plan has after this one.
[[nodiscard]] std::vector<BlockEvent> done_after(const DayPlan& plan,
                                                 const std::vector<BlockEvent>& in_force,
                                                 const std::string& work);
/// What is not there yet that the plan has before a work of no block: blocks not in place, works
/// that come after blocks are placed and are not recorded as done. In words; empty: nothing.
[[nodiscard]] std::string missing_before(const DayPlan& plan, const std::vector<CopyLife>& lives,
                                         const std::vector<BlockEvent>& in_force,
                                         const std::string& work);
/// Works that the plan has before a block is placed and that neither are done nor come before one
/// that is; in the order of the plan.
[[nodiscard]] std::vector<std::string> works_not_done(const DayPlan& plan,
                                                      const std::vector<BlockEvent>& in_force,
                                                      const std::string& block);
/// "a1, b1, a2 and 4 more".
[[nodiscard]] std::string few(const std::vector<std::string>& names);

}  // namespace skewback
