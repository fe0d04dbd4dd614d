#pragma once
// How far up each arm its last joint from free edge to free edge may stand, clear of the others'.

#include "cut/levels.hpp"

namespace skewback {

struct Reach {
  std::vector<double> past_m;  // of each arm's least border phi; negative: must stay short of it
  bool by_legs = false;        // planes may pass through other legs, where they cut nothing
};

/// The plane of a level; past the border it is moved on along its normal.
[[nodiscard]] Plane plane_past(const Body& body, const ArmField& arm, double phi);

/// By whole planes, which cut most simply; where those cross, or where that is asked for, by legs.
/// `gap` is left between last planes, m, at most `furthest` past the borders. Faults: they cross.
[[nodiscard]] Result<Reach> reaches(const Brief& brief, const Body& body,
                                    const std::vector<ArmField>& arms, double gap, double furthest,
                                    bool only_by_legs = false);

}  // namespace skewback
