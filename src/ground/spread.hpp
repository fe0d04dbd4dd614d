#pragma once
// What the stretch and warmth of the ties do to the bridge. Found by works/tie_spread.hpp. Theory:
// docs/theory/ground.md.

#include <string>
#include <vector>

#include "ground/ground_parts.hpp"
#include "stand/pads.hpp"

namespace skewback {

/// What the rods' length is reckoned from: the brief does not say how they are tightened.
enum class Tightened {
  kAtStriking,  // so that the feet stand where they were drawn when the bridge bears its own weight
  kNot          // snug before striking: the dead load stretches them too
};

struct SpreadState {
  std::string case_id;
  Tightened tightened = Tightened::kAtStriking;
  double warmer_k = 0;  // bridge and rods
  bool settled = false;
  std::string reason;                            // where it is not
  int rounds = 0;                                // states of the pads looked at
  double spread_m = 0;                           // greatest change of distance between two feet
  std::vector<std::vector<double>> rod_force_n;  // per tie, per rod, after
  std::vector<Vec3> ground_n;                    // per foot: x, y and yaw that rods leave
  std::vector<SupportReaction> supports;         // after
  std::vector<BlockMove> moves;                  // of the ground blocks
  double peak_pa = 0, opening_max_m = 0;
  double crown_drop_m = 0;         // of the highest block's centre of gravity, all causes
  double crown_drop_spread_m = 0;  // less that of the same load and warmth on feet that stay
  double move_max_m = 0;           // of any block
  double pressed = 0;              // of what the joint takes that is nearest to it; 0: no state
  std::string over;                // over 1: which joint, in words
};

struct TieSpread {
  std::vector<SpreadState> states;  // per case: at striking, not; then warmer and colder
  double spread_m = 0;              // greatest of those that settled
  int unsettled = 0;
  std::vector<std::string> remarks;
};

}  // namespace skewback
