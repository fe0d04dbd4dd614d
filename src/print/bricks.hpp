#pragma once
// Private to print/: beads as boxes, in a tree over the order in which they are laid.

#include <array>
#include <vector>

#include "print/print.hpp"

namespace skewback {

/// A box: centre and half-edges.
struct Brick {
  Vec3 centre = Vec3::Zero();
  std::array<Vec3, 3> half = {Vec3::Zero(), Vec3::Zero(), Vec3::Zero()};
  std::size_t pose = 0;  // whose bead it is
  [[nodiscard]] double radius() const {
    return std::sqrt(half[0].squaredNorm() + half[1].squaredNorm() + half[2].squaredNorm());
  }
  /// How far it reaches from its centre along a unit direction.
  [[nodiscard]] double reach(const Vec3& along) const {
    return std::abs(half[0].dot(along)) + std::abs(half[1].dot(along)) +
           std::abs(half[2].dot(along));
  }
};

/// The bead from a pose to the next as a box: its top through both tips, as wide as the bead is
/// over all and as deep as it is high, square to the mean of the two axes. Each end is lengthened
/// by half the width times tan(half the bend there), at most by half the width, which covers the
/// bead's round corner.
[[nodiscard]] Brick brick_of(const std::vector<Pose>& poses, std::size_t i);

/// Beads of one layer in the order of laying.
struct BrickTree {
  struct Node {
    Vec3 centre, half;                // box square to the table frame
    std::size_t first, end;           // bricks
    std::size_t left = 0, right = 0;  // 0: a leaf
  };
  int layer = 0;
  std::vector<Brick> bricks;
  std::vector<Node> nodes;  // nodes[0] is the root
  std::vector<Vec3> hull;   // no brick reaches farther along any direction than one of these
};

/// One tree for each layer that has beads, in the order of the poses.
[[nodiscard]] std::vector<BrickTree> brick_trees(const std::vector<Pose>& poses);

}  // namespace skewback
