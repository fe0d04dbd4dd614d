#pragma once
// The underside of a block, and seats spread over it where no centring is drawn.

#include <vector>

#include "stand/forces.hpp"

namespace skewback {

struct SoffitFace {
  std::vector<Vec3> corners;  // counter-clockwise seen from outside the block
  Vec3 centre = Vec3::Zero();
  Vec3 normal = Vec3::Zero();  // unit, out of the block
  double area = 0;
};

/// What looks down and can be seen from below: no bed, no wall of a void, no side that leans.
/// Empty if there is none.
[[nodiscard]] std::vector<SoffitFace> soffit(const Assembly& assembly, int block);

/// Four seats near the corners of the block's soffit, each pushing square to the soffit there.
/// Empty if there is no soffit.
[[nodiscard]] std::vector<Prop> seats_of(const Assembly& assembly, int block, double friction);

}  // namespace skewback
