#pragma once
// How far the ties let the feet go, and what that does to the bridge: pads, rods and feet brought
// to one state, round by round. Theory: docs/theory/ground.md.

#include "brief/brief.hpp"
#include "ground/ground.hpp"
#include "ground/spread.hpp"
#include "stand/stand.hpp"

namespace skewback {

struct SpreadOptions {
  double still_m = 0.05e-3;  // change of any foot's movement from round to round
  int rounds_most = 40;
  double tolerance = 1e-7;  // of the pads: these are not evidence
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
