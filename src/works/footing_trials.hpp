#pragma once
// Private to works/: one load case with one footing moved, and which of these are let go in time.

#include <optional>
#include <string>
#include <utility>
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

/// Those that the pads have no state for at once; of each footing the one that slips most, if it
/// does on a hundredth of a joint's pressure; and where view 3 is always wanted, the one that
/// presses most. Indices, in order.
[[nodiscard]] std::vector<std::size_t> trials_to_let_go(const std::vector<FootingTrial>& trials,
                                                        ThirdView called);

/// How many of the trials' states press a joint beyond its limit, and in words how many that is and
/// the joint furthest beyond; 0 and empty: none. `limit_pa`: per joint.
[[nodiscard]] std::pair<int, std::string> pressed_too_hard(const Assembly& assembly,
                                                           const std::vector<FootingTrial>& trials,
                                                           const std::vector<double>& limit_pa);

/// In words why a trial does not hold: the pads have no state, a joint's concrete is pressed beyond
/// `concrete_pa`, or the blocks did not come to rest. Empty: it holds.
[[nodiscard]] std::string why_not_held(const Assembly& assembly, const FootingTrial& trial,
                                       double concrete_pa);

}  // namespace skewback
