#pragma once
// Openings of a plan: which of them is an eye, and places along their edges.

#include <optional>
#include <vector>

#include "brief/brief.hpp"

namespace skewback {

/// The opening that contains the place where the arms meet; none if there is no such opening.
[[nodiscard]] std::optional<std::size_t> eye_of(const Plan& plan);

/// Edge of an opening walked counter-clockwise (its void on the left), first point repeated last.
[[nodiscard]] std::vector<Vec2> loop_of(const Polygon& opening);

/// Arc length on a loop where the way from `outside` to `inside` first meets it.
[[nodiscard]] double entry(const std::vector<Vec2>& loop, const Vec2& outside, const Vec2& inside);

/// `steps` + 1 points counter-clockwise along a loop from arc length `from` on for `run`: evenly
/// spaced, but sharp corners of the drawing are kept.
[[nodiscard]] std::vector<Vec2> along_loop(const std::vector<Vec2>& loop, double from, double run,
                                           int steps);

}  // namespace skewback
