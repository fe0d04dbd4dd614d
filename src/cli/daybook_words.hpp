#pragma once
// What the daybook found, as tables and as JSON (keys: docs/daybook.md).

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "daybook/now.hpp"

namespace skewback::cli {

[[nodiscard]] nlohmann::ordered_json events_json(const std::vector<BlockEvent>& events);
[[nodiscard]] std::string events_table(const std::vector<BlockEvent>& events);

/// Every copy written of, and copy 1 of the blocks nothing was written of; in the order of placing.
[[nodiscard]] std::vector<CopyLife> copies_to_list(const DayPlan& plan,
                                                   const std::vector<BlockEvent>& events);
[[nodiscard]] nlohmann::ordered_json lives_json(const DayPlan& plan,
                                                const std::vector<CopyLife>& lives);
[[nodiscard]] std::string lives_table(const DayPlan& plan, const std::vector<CopyLife>& lives);

[[nodiscard]] nlohmann::ordered_json now_json(const NowReport& report);
[[nodiscard]] std::string now_words(const DayPlan& plan, const NowReport& report);

[[nodiscard]] Fault unknown_block(const DayPlan& plan, const std::string& name);

}  // namespace skewback::cli
