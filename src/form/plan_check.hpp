#pragma once
// Can this plan work in compression? Refuses it with the place and the least change that mends it.

#include "brief/brief.hpp"

namespace skewback {

/// The inward side of the convex hull of a free edge (plan on its left): what a string laid from
/// end to end on the plan's side and pulled tight would follow. It turns right at every point.
[[nodiscard]] std::vector<Vec2> taut(const std::vector<Vec2>& line);

struct Bulge {
  double depth_m = 0;  // how far the edge leaves its taut line
  Vec2 place = Vec2::Zero();
};

/// A free edge is a strut: it must curve towards the plan all along, or be straight. Greatest
/// distance of `line` from its taut line; 0 for an edge that works.
[[nodiscard]] Bulge outward_bulge(const std::vector<Vec2>& line);

/// The plan that the net is laid on: small wiggles of its edges pulled straight.
[[nodiscard]] Plan pulled_taut(const Plan& plan);

/// Every reason why the plan cannot be formed; empty if it can. `section` sets how much material an
/// opening leaves beside it: two leaves, at least 0.3 m.
[[nodiscard]] Faults check_plan(const Plan& plan, const Section& section);

}  // namespace skewback
