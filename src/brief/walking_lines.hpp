#pragma once

#include "brief/brief.hpp"

namespace skewback {

/// From the middle of every support to its meeting (found where none is drawn), and between two
/// meetings; without one from support to support. Round an opening in a leg; over an eye.
[[nodiscard]] std::vector<std::vector<Vec2>> default_walking_lines(const Plan& plan);

[[nodiscard]] bool passes_over_an_opening(const std::vector<Vec2>& line, const Plan& plan);

}  // namespace skewback
