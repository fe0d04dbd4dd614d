#pragma once
// The bridge as it is laid: every block where it lies, every joint where it bears. Private to
// survey/.

#include "survey/packing.hpp"

namespace skewback {

/// Poses of the blocks, drawn to laid, bridge axes: small moves about the axes, then the axes.
[[nodiscard]] std::vector<Rigid> poses_of(const Assembly& assembly,
                                          const std::vector<SmallMove>& moves, const Rigid& axes);

struct Laid {
  const AsMade* made = nullptr;
  std::vector<SmallMove> moves;  // per block, about the axes
  Rigid axes;                    // drawn to chosen
  std::vector<Packer> packers;
  std::vector<OtherPad> pads = {};  // counted in `made` already
};
/// Moved blocks with their beds as made, carried masses, points of live load; forces keep size and
/// direction. A joint lies in the plane midway between its faces. It bears where the faces overlap
/// and the gap beyond the pad is no more than slack, and on the plates of its packers; what is
/// left without contact keeps an empty one.
[[nodiscard]] Assembly rebuilt(const StackModel& model, const Laid& laid,
                               const PackingRequest& packing);

/// Without the joints that do not bear.
[[nodiscard]] Assembly bearing_only(Assembly assembly);

}  // namespace skewback
