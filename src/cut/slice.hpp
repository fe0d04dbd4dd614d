#pragma once
// One arm sliced into blocks and pads, voids taken out.

#include "cut/arm_planes.hpp"
#include "cut/tubes.hpp"

namespace skewback {

struct ArmPieces {
  std::vector<Solid> blocks;  // [i] between planes i and i + 1
  std::vector<Solid> pads;    // [i] about plane i; empty when dry
  double tube_volume_m3 = 0;  // of the whole tubes, measured apart from any cut
  double leaf_least_m = 0;
};

/// `body` ends behind the arm's last plane, half a pad ahead of it, and half a pad behind the
/// first.
[[nodiscard]] Result<ArmPieces> slice_arm(const Section& section, const Solid& arm,
                                          const ArmCuts& cuts, double pad_m,
                                          const Progress& progress);

}  // namespace skewback
