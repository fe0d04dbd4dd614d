#include "works/footing_moves.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <numeric>
#include <tuple>

#include "base/parallel.hpp"
#include "deliver/case_words.hpp"
#include "stand/pad_path.hpp"
#include "works/footing_trials.hpp"
#include "works/required_site.hpp"
#include "works/states.hpp"

namespace skewback {
namespace {

constexpr std::size_t kWorstCases = 10;
constexpr std::size_t kPatternStarts = 3;
constexpr double kPatternCap = 1000;
constexpr double kCellsMost = 200;

}  // namespace

std::vector<std::size_t> worst_patterns(const Dossier& dossier) {
  const Assembly& assembly = dossier.cut->assembly;
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < dossier.proofs.size(); ++i) {
    if (dossier.notes[i].kind != CaseKind::kPattern) continue;
    if (assembly.cases[i].has_live() && dossier.proofs[i].load_factor) order.push_back(i);
  }
  const auto key = [&](std::size_t i) {
    const CaseProof& proof = dossier.proofs[i];
    return std::pair(proof.at_cap ? 1e300 : *proof.load_factor,
                     -proof.joint_stress_max_pa.value_or(0));
  };
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return key(a) < key(b); });
  return order;
}

namespace {

void let_trials_go(const Dossier& dossier, std::vector<FootingTrial>& trials,
                   const Progress& progress) {
  const ThirdView called = third_view_called(dossier.brief.loads.motion);
  if (called == ThirdView::kNever) return;
  const std::vector<std::size_t> chosen = trials_to_let_go(trials, called);
  const Assembly& assembly = dossier.cut->assembly;
  std::atomic<std::size_t> done{0};
  for_each_index(chosen.size(), [&](std::size_t k) {
    FootingTrial& trial = trials[chosen[k]];
    trial.motion =
        let_go(assembly, assembly.cases[trial.load], scene_of(dossier.stand_options, trial.pads),
               motion_options_of(trial.pads), progress);
    progress.checkpoint("stand: moved footings let go",
                        static_cast<double>(++done) / static_cast<double>(chosen.size()));
  });
}

/// The pattern found becomes a case like any other, proven like them.
void prove_worst(Dossier& dossier, const StandOptions& proof) {
  LoadCase load = dossier.worst_pattern->load;
  load.id = deliver::kWorstCase;
  dossier.proofs.push_back(prove(dossier.cut->assembly, load, proof));
  dossier.cut->assembly.cases.push_back(std::move(load));
  dossier.notes.push_back(
      {deliver::kWorstCase, CaseKind::kPattern, "weight, people at the worst place found", 1, 1});
}

}  // namespace

void find_worst_pattern(Dossier& dossier, const StandOptions& proof, const Progress& progress) {
  const Assembly& assembly = dossier.cut->assembly;
  const double people = area(walking_surface(dossier.brief));
  if (!(people > 0)) return;
  const auto cells =
      people_cells(dossier.brief, assembly, std::max(0.4, std::sqrt(people / kCellsMost)));
  std::vector<std::size_t> starts = worst_patterns(dossier);
  if (cells.empty() || starts.empty()) return;
  starts.resize(std::min(starts.size(), kPatternStarts));
  StandOptions options = dossier.stand_options;
  options.load_factor_cap = std::max(options.load_factor_cap, kPatternCap);
  std::vector<WorstPattern> found(starts.size());
  progress.checkpoint("stand: worst pattern", 0);
  for_each_index(starts.size(), [&](std::size_t i) {
    found[i] = worst_pattern(assembly, assembly.cases[starts[i]], cells, options);
  });
  for (WorstPattern& pattern : found) {
    if (!pattern.proof.load_factor) continue;
    if (!dossier.worst_pattern ||
        *pattern.proof.load_factor < *dossier.worst_pattern->proof.load_factor) {
      dossier.worst_pattern = std::move(pattern);
    }
  }
  if (dossier.worst_pattern) prove_worst(dossier, proof);
}

void move_footings(Dossier& dossier, const Progress& progress) {
  const Assembly& assembly = dossier.cut->assembly;
  for (const LoadCase& load : assembly.cases) {
    if (load.has_live()) continue;
    dossier.reach = footing_reach(assembly, load, dossier.stand_options, {}, {}, progress);
    break;
  }
  std::vector<std::size_t> cases = worst_patterns(dossier);
  cases.resize(std::min(cases.size(), kWorstCases));
  MovedFootings moved;
  moved.shift_m = dossier.brief.required.footing_tolerance_m;
  moved.live_factor = dossier.brief.required.live_factor;
  for (const std::size_t i : cases) moved.cases.push_back(assembly.cases[i].id);
  std::vector<FootingTrial> trials =
      footing_trials(assembly, cases, moved.shift_m * dossier.brief.factors.moved);
  const PadModel model(assembly, dossier.stand_options);
  std::atomic<std::size_t> done{0};
  for_each_index(trials.size(), [&](std::size_t i) {
    PadOptions& pads = trials[i].pads;
    pads.load_factor = moved.live_factor;
    pads.moves = {trials[i].move};
    pads.tolerance = 1e-7;  // not evidence: verdicts of trials
    trials[i].state = state_at_once_or_in_steps(model, assembly.cases[trials[i].load], pads);
    progress.checkpoint("stand: moved footings",
                        static_cast<double>(++done) / static_cast<double>(trials.size()));
  });
  let_trials_go(dossier, trials, progress);
  bool failed = false;
  const double concrete_pa = concrete_limit_pa(dossier.brief, dossier.brief.factors.concrete);
  for (const FootingTrial& trial : trials) {
    ++moved.states;
    if (trial.motion) {
      ++moved.let_go;
      moved.rested += trial.motion->ending == Ending::kAtRest;
    }
    if (const std::string why = why_not_held(assembly, trial, concrete_pa); !why.empty()) {
      if (!failed) moved.worst = trial.words + ": " + why;
      failed = true;
      continue;
    }
    ++moved.held;
    if (trial.state.in_steps > 0) ++moved.in_steps;
    if (trial.state.peak_pa <= moved.peak_pa) continue;
    moved.peak_pa = trial.state.peak_pa;
    if (!failed) moved.worst = trial.words;
  }
  std::vector<double> limit_pa;
  for (const Joint& joint : assembly.joints) limit_pa.push_back(joint_limit(dossier.brief, joint));
  std::tie(moved.over, moved.over_words) = pressed_too_hard(assembly, trials, limit_pa);
  if (moved.states > 0) dossier.moved = moved;
}

}  // namespace skewback
