#pragma once
// Private to works/: one load case with one footing moved, and which of these are let go in time.

#include <optional>
#include <string>
#include <vector>

#include "stand/motion_view.hpp"

namespace skewback {

struct FootingTrial {
  std::size_t load = 0;  // case of the assembly
  BlockMove move;
  std::string words;  // "case, footing moved +x"
  PadOptions pads;
  PadState state;
  std::optional<Motion> motion;
};

/// Each fixed block moved by `shift_m` along +-x, y and z under each of `cases`, in this order.
[[nodiscard]] std::vector<FootingTrial> footing_trials(const Assembly& assembly,
                                                       const std::vector<std::size_t>& cases,
                                                       double shift_m);

/// Those that the pads have no state for; of each footing the one that slips most, if it does on a
/// hundredth of a joint's pressure; and where view 3 is always wanted, the one that presses most.
/// Indices, in order.
[[nodiscard]] std::vector<std::size_t> trials_to_let_go(const std::vector<FootingTrial>& trials,
                                                        ThirdView called);

}  // namespace skewback
