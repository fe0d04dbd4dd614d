#pragma once
// How far the ties let the feet go, and what that does to the bridge: pads, rods and feet brought
// to one state, round by round. Theory: docs/theory/ground.md.

#include <optional>
#include <string>
#include <vector>

#include "brief/brief.hpp"
#include "ground/ground.hpp"
#include "stand/stand.hpp"

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

struct SpreadOptions {
  double still_m = 0.05e-3;  // change of any foot's movement from round to round
  int rounds_most = 40;
  double tolerance = 1e-7;  // of the pads: these are not evidence
};

struct TieSpread {
  std::vector<SpreadState> states;  // per case: at striking, not; then warmer and colder
  double spread_m = 0;              // greatest of those that settled
  int unsettled = 0;
  std::vector<std::string> remarks;
};

/// Of each rod under the dead load on feet that stay where they are. Empty where there is none.
[[nodiscard]] std::vector<double> dead_elongations(const Brief& brief, const Assembly& assembly,
                                                   const PadModel& model, const Groundworks& ground,
                                                   const SpreadOptions& options = {});

/// One case. Ties as laid and sized in `ground`. `taken_out_m`: per rod, elongation that tightening
/// has taken out; empty: not tightened. Rods pull or are slack; movement is that of least squares
/// (ground/stretch.hpp). Rounds are relaxed by Aitken's rule (Irons and Tuck 1969).
[[nodiscard]] SpreadState spread_of(const Brief& brief, const Assembly& assembly,
                                    const PadModel& model, const Groundworks& ground,
                                    const LoadCase& load, const std::vector<double>& taken_out_m,
                                    double warmer_k, const SpreadOptions& options = {});

/// Every case both ways; with brief.loads.warmer_k or colder_k also warm and cold, tightened at
/// striking. Empty, with a remark, where there are no ties or some has no size.
[[nodiscard]] TieSpread tie_spread(const Brief& brief, const Assembly& assembly,
                                   const StandOptions& options, const Groundworks& ground,
                                   const Progress& progress = {}, const SpreadOptions& wanted = {});

}  // namespace skewback
