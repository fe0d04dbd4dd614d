#pragma once
// Meetings for a plan whose arms do not reach the one it has, or whose mesh folds there.

#include <array>
#include <functional>
#include <optional>
#include <string>

#include "brief/brief.hpp"

namespace skewback {

/// Two places in the plan that make the ends of a spine (brief/meetings.hpp), each as far from the
/// outline as can be, on whole centimetres; none if none is found. Supports: four or more.
[[nodiscard]] std::optional<std::array<Vec2, 2>> two_meetings_for(const Plan& plan);

/// The place furthest from the outline, on whole centimetres, that every support reaches straight
/// inside the plan; `sound`: what else it must be for. None if none is found.
[[nodiscard]] std::optional<Vec2> meeting_for(const Plan& plan,
                                              const std::function<bool(const Vec2&)>& sound = {});

/// As a line of a brief.
[[nodiscard]] std::string as_written(const std::array<Vec2, 2>& meetings);
[[nodiscard]] std::string as_written(const Vec2& meeting);

}  // namespace skewback
