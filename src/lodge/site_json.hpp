#pragma once
// What the daybook says, as JSON for the phone (docs/lodge.md, "The daybook on a phone"). Pure.

#include <nlohmann/json.hpp>

#include "daybook/now.hpp"

namespace skewback::lodge {

/// Each with the name of its copy and whether it was taken back.
[[nodiscard]] nlohmann::ordered_json events_json(const std::vector<BlockEvent>& of_these,
                                                 const std::vector<BlockEvent>& all);
/// Blocks with all their copies, works, what can be placed, what holds the work up, last events.
[[nodiscard]] nlohmann::ordered_json site_json(const DayPlan& plan,
                                               const std::vector<BlockEvent>& events,
                                               const Moment& now);
/// One copy of a block ("o4", "o4/2"), or a piece of work; `name` must be in the plan.
[[nodiscard]] nlohmann::ordered_json copy_json(const DayPlan& plan,
                                               const std::vector<BlockEvent>& events,
                                               const std::string& name, const Moment& now);

/// Why there is no such block, copy or piece of work; none: there is.
[[nodiscard]] std::optional<Fault> no_such_name(const DayPlan& plan, const std::string& name);
/// As a person with a phone would say it, who sees neither the machine's folders nor its commands.
[[nodiscard]] Fault for_phone(Fault fault);

}  // namespace skewback::lodge
