#pragma once
// Heights over a joint from those at its corners, and blocks with their beds as made. Private to
// survey/.

#include "survey/stack.hpp"

namespace skewback {

/// c0 + c1 x + c2 y + c3 x y, in the joint's frame.
struct Warp {
  Eigen::Vector4d c = Eigen::Vector4d::Zero();
  [[nodiscard]] double at(const Vec2& p) const {
    return c[0] + c[1] * p.x() + c[2] * p.y() + c[3] * p.x() * p.y();
  }
  [[nodiscard]] Vec2 slope(const Vec2& p) const {
    return {c[1] + c[3] * p.y(), c[2] + c[3] * p.x()};
  }
};
/// Through the heights at four corners; least squares and least norm where two of them meet.
[[nodiscard]] Warp warp_through(const JointCorners& corners, const std::array<double, 4>& heights);
/// Of a bed, along the joint's z from where it is drawn.
[[nodiscard]] Warp bed_warp(const JointCorners& corners, const BedError& error);

/// The block's solid with its beds where they are made: their corners moved along the joints' z,
/// faces that are flat no longer split into triangles.
[[nodiscard]] Solid as_made_solid(const StackModel& model, const AsMade& made, int block);

}  // namespace skewback
