#pragma once
// How far the ties let the feet go, and what that does to the bridge: pads, elastic rods and feet
// brought to one state. Theory: docs/theory/ground.md.

#include <memory>
#include <optional>
#include <vector>

#include "base/progress.hpp"
#include "brief/brief.hpp"
#include "ground/ground.hpp"
#include "ground/spread.hpp"
#include "stand/stand.hpp"
#include "works/works.hpp"

namespace skewback {

struct SpreadOptions {
  double still_m = 0.05e-3;  // greatest move of a foot (a turn of 1 rad as 1 m) in the last round
  int rounds_most = 40;
  double tolerance = 1e-7;  // of the pads: these are not evidence
};

struct FeetSystem;

/// The bridge on pads with feet that rods hold: the unknowns are the feet's movements in plan,
/// found by Newton's method on the equilibrium of every foot. Keeps references to brief and
/// assembly.
class SpreadModel {
 public:
  SpreadModel(const Brief& brief, const Assembly& assembly, const StandOptions& options,
              const Groundworks& ground, const SpreadOptions& wanted = {});
  ~SpreadModel();
  /// Safe to call from several threads at once.
  [[nodiscard]] SpreadState spread(const LoadCase& load, Tightened tightened,
                                   double warmer_k) const;

 private:
  const Brief& brief_;
  const Assembly& assembly_;
  SpreadOptions wanted_;
  PadModel model_;
  std::unique_ptr<FeetSystem> feet_;
  std::vector<double> limit_pa_;  // per joint
  std::optional<Eigen::MatrixXd> bridge_;
  Eigen::VectorXd dead_pull_n_;
};

/// Every case both ways; with brief.loads.warmer_k or colder_k also warm and cold, tightened at
/// striking. Empty, with a remark, where there are no ties or some has no size.
[[nodiscard]] TieSpread tie_spread(const Brief& brief, const Assembly& assembly,
                                   const StandOptions& options, const Groundworks& ground,
                                   const Progress& progress = {}, const SpreadOptions& wanted = {});

/// States tightened at striking as states beside the load cases: they hold where feet, rods and
/// pads settle and no joint is pressed beyond joint_limit. Those on rods that were not tightened
/// are left out: an order of work that does not tighten them is not this tool's.
[[nodiscard]] std::vector<TriedState> tried_on_ties(const std::vector<SpreadState>& states);

/// The settled states without warmth as states of the ties, for judge_feet.
[[nodiscard]] std::vector<TieState> held_by_rods(const TieSpread& spread, Tightened tightened);

}  // namespace skewback
