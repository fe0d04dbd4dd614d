#pragma once
// What the stretch and warmth of the ties do to the bridge. Found by works/tie_spread.hpp. Theory:
// docs/theory/ground.md.

#include <string>
#include <vector>

#include "stand/pads.hpp"

namespace skewback {

/// What the rods' length is reckoned from: the brief does not say how they are tightened.
enum class Tightened {
  kAtStriking,  // kept at their length until the bridge bears its own weight: only what live load
                // and warmth add spreads the feet
  kNot          // snug before striking: the dead load stretches them too
};

struct SpreadState {
  std::string case_id;
  Tightened tightened = Tightened::kAtStriking;
  double warmer_k = 0;  // bridge and rods
  bool settled = false;
  std::string reason;  // where it is not, or rods do not hold the feet
  int rounds = 0;
  double spread_m = 0;                           // greatest change of distance between two feet
  std::vector<std::vector<double>> rod_force_n;  // per tie, per rod, after
  std::vector<BlockMove> moves;                  // of the ground blocks
  double peak_pa = 0, opening_max_m = 0;
  double crown_drop_m = 0;         // of the highest block's centre of gravity, all causes
  double crown_drop_spread_m = 0;  // less that of the same load and warmth on feet that stay
};

struct TieSpread {
  std::vector<SpreadState> states;  // per case: at striking, not; then warmer and colder
  double spread_m = 0;              // greatest of those that settled
  int unsettled = 0;
  std::vector<std::string> remarks;
};

}  // namespace skewback
