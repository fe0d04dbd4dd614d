#pragma once
// A pair of meetings for a plan whose arms do not reach one.

#include <array>
#include <optional>
#include <string>

#include "brief/brief.hpp"

namespace skewback {

/// Two places in the plan that make the ends of a spine (brief/meetings.hpp), each as far from the
/// outline as can be, on whole centimetres; none if none is found. Supports: four or more.
[[nodiscard]] std::optional<std::array<Vec2, 2>> two_meetings_for(const Plan& plan);

/// As a line of a brief.
[[nodiscard]] std::string as_written(const std::array<Vec2, 2>& meetings);

}  // namespace skewback
