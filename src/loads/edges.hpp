#pragma once
// The free edges in pieces, each on the block under it. Private to loads/.

#include "assembly/assembly.hpp"
#include "brief/brief.hpp"

namespace skewback {

struct EdgePiece {
  int block = -1;
  double length_m = 0;          // in plan
  double true_length_m = 0;     // up and down with the walk
  Vec3 point = Vec3::Zero();    // middle of the parapet's foot, on top of the block
  double walk_z = 0;            // of the walk there, no lower than that
  Vec2 outward = Vec2::Zero();  // unit, square to the edge
};

/// Along lines that follow free edges with the deck on their left, every 0.1 m or less, `inset` of
/// the parapet inside them. Pieces beyond all blocks are left out.
[[nodiscard]] std::vector<EdgePiece> edge_pieces(const Brief& brief, const Assembly& assembly,
                                                 const std::vector<Regions>& outlines,
                                                 const std::vector<std::vector<Vec2>>& lines,
                                                 double deck_m);

/// Where people's feet are at a point on top of a block: as the walking surface is drawn, no lower
/// than the block; else `deck_m` over it.
[[nodiscard]] double walk_level(const Walkway& walkway, const Vec3& top, double deck_m);

}  // namespace skewback
