#pragma once
// How far each footing may move before a joint opens, and before nothing holds. View 2.

#include "base/progress.hpp"
#include "stand/pads.hpp"

namespace skewback {

struct ReachOptions {
  double shift_most_m = 0.1;  // no further than this is tried
  double turn_most_rad = 0.02;
  double closed_share = 0.5;  // a joint is open when less of it is closed
  double near = 0.05;         // relative width of the bracket
  int rounds_most = 10;  // on the bounds of friction: what takes more counts as without a state
};

struct FootingReach {
  int block = -1;        // fixed
  std::string way;       // "outward", "inward", "up", "down", "left", "right", "turned left", ...
  BlockMove unit;        // movement of 1 m or 1 rad that way
  bool is_turn = false;  // m or rad
  double opens =
      0;  // at which the first joint opens that was closed before; at most the most tried
  bool opens_beyond = false;  // none opened up to there
  int joint = -1;             // that opens first
  double holds = 0;           // furthest at which a state of the pads was found
  bool holds_beyond = false;
};

/// Ways: outward is the horizontal push of the bridge on the footing, left is square to it for an
/// eye that looks outward; turns are about the bearing, right-handed about outward, left and up.
/// Each way is followed from small amounts up, so a state beyond one that has none is not seen.
/// Ways in parallel. Empty if the case has no state with all footings where they are.
[[nodiscard]] std::vector<FootingReach> footing_reach(
    const Assembly& assembly, const LoadCase& load, const StandOptions& options,
    const PadOptions& pads, const ReachOptions& wanted = {}, const Progress& progress = {});

}  // namespace skewback
