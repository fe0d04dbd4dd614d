#pragma once
// Who carries what lies on a part of the plan. Private to loads/.

#include "assembly/assembly.hpp"

namespace skewback {

struct Share {  // where a block's plan outline carries part of a region
  int block = -1;
  double area_m2 = 0;
  Vec3 point = Vec3::Zero();  // centroid of that part, on top of the block
};

/// Plan outlines of the blocks, shared out without overlap: joints lean, so neighbours overlap seen
/// from above. Empty for fixed blocks.
[[nodiscard]] std::vector<Regions> shared_outlines(const Assembly& assembly);

/// Shares of a region; they add up to its area.
[[nodiscard]] std::vector<Share> shares(const Assembly& assembly,
                                        const std::vector<Regions>& outlines, const Regions& where);

/// Height of the top of a solid above a plan point: the highest upward face there.
[[nodiscard]] double top_at(const Solid& solid, const Vec2& p);

}  // namespace skewback
