#pragma once
// What may not be written of an event, but for --even-so, by the plan's own times and works.
// Private to daybook/.

#include <optional>
#include <string>
#include <vector>

#include "daybook/life.hpp"

namespace skewback {

[[nodiscard]] Fault event_fault(const BlockEvent& next, const std::string& found,
                                const std::string& expected, const std::string& change);

/// `next` is "cured": sooner after it was made than the plan has it cure.
[[nodiscard]] std::optional<Fault> cured_too_soon(const DayPlan& plan, const CopyLife& life,
                                                  const BlockEvent& next);
/// `next` is "placed": footings or centring, which the plan has before it, are not recorded.
[[nodiscard]] std::optional<Fault> nothing_to_stand_on(const DayPlan& plan,
                                                       const std::vector<BlockEvent>& in_force,
                                                       const BlockEvent& next);
/// A copy beyond the next one (and, where the plan makes a spare, beyond the second). Whatever is
/// said: not to be had by --even-so. A block that was made elsewhere comes with its number.
[[nodiscard]] std::optional<Fault> copy_out_of_turn(const DayPlan& plan,
                                                    const std::vector<CopyLife>& lives,
                                                    const BlockEvent& next);

}  // namespace skewback
