#pragma once
// Where arms meet: at one place, or at the two ends of a spine.

#include <vector>

#include "brief/brief.hpp"

namespace skewback {

/// As the brief gives them: none, one or two, m.
[[nodiscard]] std::vector<Vec2> meetings(const Plan& plan);

/// Per support the index of its meeting: the one whose straight way from the middle of the
/// springing keeps inside the outline (to 1 mm); of both or neither, the nearer. 0 but for a second
/// meeting.
[[nodiscard]] std::vector<int> meetings_of_supports(const Plan& plan);

/// None where the brief gives none.
[[nodiscard]] std::optional<Vec2> meeting_of(const Plan& plan, std::size_t support);
[[nodiscard]] std::optional<Vec2> nearest_meeting(const Plan& plan, const Vec2& p);

/// Found from the outline: the centroid of the waists, the places where free edges come nearest to
/// it (their middles for two supports).
[[nodiscard]] Vec2 found_meeting(const Plan& plan);

/// The meeting, or half way between two.
[[nodiscard]] std::optional<Vec2> middle_of_meetings(const Plan& plan);

/// Whether a free edge runs from a support of one meeting to one of the other.
[[nodiscard]] bool passes_spine(const Plan& plan, int free_edge);

/// Why two meetings cannot be the ends of a spine; none if they can, or if there is no second.
[[nodiscard]] std::optional<Fault> spine_fault(const Plan& plan);

/// How far the straight way from a to b strays out of the outline at the most, m; 0: it does not.
struct Stray {
  double most_m = 0;
  Vec2 place = Vec2::Zero();
};
[[nodiscard]] Stray stray(const Polygon& outline, const Vec2& a, const Vec2& b);

/// Whether it strays nowhere; looks no further than it has to.
[[nodiscard]] bool straight_inside(const Region& plan, const Vec2& a, const Vec2& b);

}  // namespace skewback
