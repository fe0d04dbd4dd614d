#pragma once
// Private to ground/: a convex slab in plan.

#include <vector>

#include "brief/brief.hpp"
#include "ground/ground_parts.hpp"

namespace skewback {

struct RaftPlan {
  Polygon outline;  // convex, counter-clockwise
  double area_m2 = 0;
  Vec2 centre = Vec2::Zero();
  Mat3 moments = Mat3::Zero();  // integrals of (1, x, y)(1, x, y)'
  Vec2 across = Vec2::UnitX();  // its short way
  Vec2 size_m = Vec2::Zero();   // of the rectangle of the same area and the same ratio of
                                // second moments: across, along
};
[[nodiscard]] RaftPlan raft_plan(const Polygon& outline);

/// Integrals of (1, x, y)(1, x, y)' over a convex polygon.
[[nodiscard]] Mat3 plan_moments(const Polygon& convex);

struct RaftCut {  // n . p = offset_m
  double offset_m = 0, width_m = 0;
  Polygon side;  // beyond it, where n . p is greater
};
/// At a share of the polygon's extent along n.
[[nodiscard]] RaftCut cut_plan(const Polygon& convex, const Vec2& n, double share);

/// Counter-clockwise corners of a footing in plan.
[[nodiscard]] std::vector<Vec2> footing_corners(const Support& support, const FootingSize& size);

}  // namespace skewback
