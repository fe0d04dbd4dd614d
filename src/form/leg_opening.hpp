#pragma once
// Openings off the meeting: which leg each lies in, and the two tips between which the leg's fibres
// pass it on either side.

#include <vector>

#include "brief/brief.hpp"

namespace skewback {

struct LegOpening {
  std::size_t opening = 0;  // index into plan.openings
  std::size_t leg = 0;      // support of the leg that holds its centroid
  std::vector<Vec2> loop;   // its edge, counter-clockwise, first point repeated last
  // Arc lengths on the loop of the ends that lie nearest to the springing and furthest from it, in
  // the direction from the springing's middle to the meeting: a sharp corner, or the middle of a
  // blunt end.
  double low = 0, high = 0;
};

/// Every opening but the eye, in the order of the plan.
[[nodiscard]] std::vector<LegOpening> leg_openings(const Plan& plan);

/// `steps` + 1 points along one side of it from tip to tip, evenly spaced as along_loop does;
/// `right`: seen up the leg.
[[nodiscard]] std::vector<Vec2> side_of(const LegOpening& opening, bool right, int steps);

/// The share of the plan that is drawn as a leg: from the springing along its two free edges to
/// their waists and from there straight to the meeting. Counter-clockwise.
[[nodiscard]] Polygon leg_outline(const Plan& plan, std::size_t leg);

/// From the middle of the springing to where the leg meets the others.
[[nodiscard]] std::pair<Vec2, Vec2> leg_axis(const Plan& plan, std::size_t leg);

/// How far an opening off the meeting reaches out of its leg at the most, m; 0 if it does not.
struct OutOfLeg {
  double most_m = 0;
  Vec2 place = Vec2::Zero();
};
[[nodiscard]] OutOfLeg out_of_leg(const Plan& plan, const LegOpening& opening);

}  // namespace skewback
