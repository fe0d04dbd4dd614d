#pragma once
// Where the tubes of a block have to end further in than its leaves say.

#include "cut/tubes.hpp"

namespace skewback {

/// Tubes from bed to bed, straight from ring to ring.
struct TubeSpan {
  Plane low, high;  // normals up the flow
  TubeRings low_rings, high_rings;
};

/// Widest reach of the tubes across either bed, m.
[[nodiscard]] double widest(const TubeSpan& span);

/// Walls of tubes that lean against the beds are thinner square to themselves than in the bed: the
/// least share, cosine of the lean.
[[nodiscard]] double least_wall_share(const TubeSpan& span);

/// Where the side of `part` curves in between the beds so far that less than `share` of the leaf is
/// left beside the outer tubes, both ends are moved in until the leaf is whole; whether any was.
bool draw_in_leaves(const TubeSpan& span, const Solid& part, double leaf_m, double share,
                    TubeEnds& low, TubeEnds& high);

/// Where the outer side of the first or the last tube leans so far that it is under `share` of its
/// thickness, the end in the wider bed is moved in until it leans no more than that; whether any
/// was.
bool draw_in_leaning(const TubeSpan& span, double share, TubeEnds& low, TubeEnds& high);

}  // namespace skewback
