#pragma once
// The legs of the walk and the heights along them.

#include "access/access.hpp"
#include "access/back_height.hpp"
#include "access/gradients.hpp"

namespace skewback::access {

inline constexpr double kStation = 0.05;  // m between stations, in plan

struct Leg {
  WalkLine line;
  std::vector<Vec3> path;  // support to meeting; z of a drawn surface, else 0
  bool backward = false;   // against the direction of its line in the brief
  bool ends_at_meeting = false;
  int meeting = 0;           // which of two
  double hole_m = 0;         // longest stretch with no block under it, less two stations
  std::vector<Step> uneven;  // jumps of the tops from block to block over kStepMost
};

/// Whether one goes on from one leg to the other.
[[nodiscard]] inline bool meet(const Leg& a, const Leg& b) {
  return a.ends_at_meeting && b.ends_at_meeting && a.meeting == b.meeting;
}

/// A walkway on frames or bearers: brief.walkway.width_m > 0 and it weighs something or its surface
/// is drawn without fill.
[[nodiscard]] bool is_carried(const Walkway& walkway);
/// Width walked: brief.walkway.width_m, else what is clear at its narrowest.
[[nodiscard]] double walked_width_m(const Brief& brief, const WalkLine& line);

/// Paths and names alone, heights not yet taken. (legs.cpp)
[[nodiscard]] std::vector<Leg> plan_legs(const Brief& brief);
/// In the order of brief.walkway.lines; those that run from support to support are cut in two at
/// the meeting. Along a spine there are two legs, from its middle to either meeting. Where the
/// blocks leave a joint open heights are taken across it.
[[nodiscard]] std::vector<Leg> walk_legs(const Brief& brief, const BackHeight& back);

[[nodiscard]] Profile profile_of(const WalkLine& line);  // from the support up
/// From support to support: up `first`, down `second`.
[[nodiscard]] Profile joined(const WalkLine& first, const WalkLine& second);
/// Place and heights between stations; the rest is of the nearer one.
[[nodiscard]] WalkStation station_at(const WalkLine& line, double along_m);

}  // namespace skewback::access
