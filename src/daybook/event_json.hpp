#pragma once
// An event as every reader outside is told of it.

#include <nlohmann/json.hpp>

#include "daybook/daybook.hpp"

namespace skewback {

/// number, block, copy, event, when, written, who, photo, note, cancels; what is empty is null.
[[nodiscard]] nlohmann::ordered_json event_json(const BlockEvent& event);

}  // namespace skewback
