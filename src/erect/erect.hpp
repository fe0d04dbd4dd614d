#pragma once
// The order of work, each stage proved: placing on the centring, then striking it. Theory:
// docs/theory/erect.md.

#include "base/progress.hpp"
#include "brief/brief.hpp"
#include "centring/centring.hpp"
#include "erect/entry.hpp"
#include "stand/stand.hpp"

namespace skewback {

/// A stage under the loads of building, factors on (loads/building.hpp): all it was tried with.
struct WorkingLoads {
  Verdict verdict = Verdict::kUndecided;  // falls before undecided before stands
  std::vector<std::string> views;         // as CaseProof; with pads, weight first
  int cases = 0, standing = 0;
  std::string governing;  // words of the case nearest to failing: by verdict, load factor where
                          // view 1 was asked, opening of joints
  std::string reason;     // where it does not stand
  std::optional<double> load_factor;  // of that case, on the factored load, weight as it is
  bool at_cap = false;                // that is "at least"
  double seat_force_max_n = 0;        // of those that stand
};

struct Stage {
  int step = 0;
  std::string what;                 // "place", "strike"
  std::vector<std::string> blocks;  // placed, or freed of their seats, in this step
  CaseProof proof;
  double seat_force_max_n = 0;
  std::optional<WorkingLoads> working;  // none: the brief has none
  std::vector<Entry> entry;  // when placing: per block, which way it comes in past those there
};
/// Under its weight and under every building load.
[[nodiscard]] inline bool stands(const Stage& stage) {
  return stage.proof.verdict == Verdict::kStands &&
         (!stage.working || stage.working->verdict == Verdict::kStands);
}
struct Programme {
  std::vector<std::string> order;  // block ids
  std::vector<Stage> stages;
  std::vector<Prop> seats;  // of the centring, on every block; Stage proofs use those still in
};

[[nodiscard]] Programme plan_erection(const Brief& brief, const Assembly& assembly,
                                      const Progress& progress = {});

/// Seats still in at a stage, and blocks present: what prove() was given.
[[nodiscard]] StandOptions stage_options(const Brief& brief, const Assembly& assembly,
                                         const Programme& programme, std::size_t stage);

}  // namespace skewback
