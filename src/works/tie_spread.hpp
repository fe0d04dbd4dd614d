#pragma once
// How far the ties let the feet go, and what that does to the bridge: pads, elastic rods and feet
// brought to one state. Theory: docs/theory/ground.md.

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/progress.hpp"
#include "brief/brief.hpp"
#include "ground/ground.hpp"
#include "stand/stand.hpp"

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
};

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
  std::optional<Eigen::MatrixXd> bridge_;
  Eigen::VectorXd dead_pull_n_;
};

struct TieSpread {
  std::vector<SpreadState> states;  // per case: at striking, not; then warmer and colder
  double spread_m = 0;              // greatest of those that settled
  int unsettled = 0;
  std::vector<std::string> remarks;
};

/// Every case both ways; with brief.loads.warmer_k or colder_k also warm and cold, tightened at
/// striking. Empty, with a remark, where there are no ties or some has no size.
[[nodiscard]] TieSpread tie_spread(const Brief& brief, const Assembly& assembly,
                                   const StandOptions& options, const Groundworks& ground,
                                   const Progress& progress = {}, const SpreadOptions& wanted = {});

/// The settled states without warmth as states of the ties, for judge_feet.
[[nodiscard]] std::vector<TieState> held_by_rods(const TieSpread& spread, Tightened tightened);

}  // namespace skewback
