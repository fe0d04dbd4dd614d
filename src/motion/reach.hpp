#pragma once
// How far each footing may go, slowly, until blocks that are let go in time move off. View 3:
// movements of any size, hinges that form and wander, inertia kept small by going slowly
// (docs/theory/motion-asked.md). View 2's answer for small movements: stand/footing_reach.hpp.

#include "motion/motion.hpp"

namespace skewback {

struct MotionReachOptions {
  double shift_most_m = 0.5;  // no further than this is tried
  double turn_most_rad = 0.3;
  bool ways = true;            // six ways and six turns
  int bearings = 0;            // horizontal ways besides, evenly round from east over north
  std::vector<int> only = {};  // fixed blocks asked for; empty: all that carry
  double near = 0.02;          // width of the bracket over its lower end, or, if that is more,
  double near_m = 1e-4, near_rad = 1e-4;
  double slow = 0.01;  // greatest speed of the ground over the root of g times a block's mean size,
                       // and greatest acceleration over g
};

struct ReachStep {  // a rest on the way
  double gone = 0, thrust_n = 0;
};

struct MotionReach {
  int block = -1;   // fixed
  std::string way;  // "outward", "inward", "left", "right", "up", "down", "turned + about ...",
                    // "bearing 45" (degrees, from east over north)
  GroundMove unit;  // movement of 1 m or 1 rad that way, about the bearing
  bool is_turn = false;
  std::optional<double> bearing_rad;
  double held = 0;                    // furthest at which all came to rest, m or rad
  std::optional<double> moved_off;    // least above at which something moved off
  std::optional<double> not_settled;  // least above that did neither in the time given
  bool beyond = false;                // `held` is the most that was tried
  int falling_block = -1;             // that had gone furthest when it moved off
  std::vector<ReachStep> path;        // horizontal push on this footing, from the start to `held`
  int tries = 0;
};

struct MotionReaches {
  Motion start;  // with all footings where they are; where it is not at rest there are no ways
  std::vector<MotionReach> ways;  // by block, then in the order above
};

/// Ways as of stand/footing_reach.hpp: outward is the horizontal push on the footing, left is
/// square to it for an eye that looks outward; turns are right-handed about outward, left and up
/// through the bearing. Ways in parallel; the answer does not depend on how many threads.
[[nodiscard]] MotionReaches motion_reach(const Assembly& assembly, const LoadCase& load,
                                         const Scene& scene = {}, const MotionOptions& options = {},
                                         const MotionReachOptions& wanted = {},
                                         const Progress& progress = {});

}  // namespace skewback
