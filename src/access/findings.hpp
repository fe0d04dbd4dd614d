#pragma once
// What of a walk complies and what does not.

#include "access/walk.hpp"

namespace skewback::access {

/// Gradient, cross fall, steps, stairs and width of one leg.
[[nodiscard]] std::vector<AccessFinding> judge_leg(const Brief& brief, const Leg& leg);
/// Ramp runs of `leg` with the rests they have when one walks on down `onward` (null: nowhere).
[[nodiscard]] std::vector<AccessFinding> judge_runs(const Brief& brief, const Leg& leg,
                                                    const Leg* onward);
/// The landing where two legs meet; none if neither comes up as a ramp.
[[nodiscard]] std::vector<AccessFinding> judge_meeting(const Brief& brief, const Leg& a,
                                                       const Leg& b);
/// Parapet and handrails, as designed; `with_ramp`: some run rises more than ADA 2010, 405.8 lets
/// go without handrails.
[[nodiscard]] std::vector<AccessFinding> judge_rails(const Brief& brief, bool with_ramp);

}  // namespace skewback::access
