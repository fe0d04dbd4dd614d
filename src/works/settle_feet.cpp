#include "works/settle_feet.hpp"

#include <algorithm>
#include <atomic>
#include <iterator>

#include "base/parallel.hpp"
#include "works/states.hpp"
#include "works/tie_spread.hpp"

namespace skewback {
namespace {

constexpr int kRounds = 3;
constexpr std::size_t kHardest = 6;

bool sized(const Groundworks& ground) {
  return !ground.ties.empty() &&
         std::ranges::all_of(ground.ties, [](const TieForce& tie) { return tie.diameter_m > 0; });
}

TieSpread at_striking(const Dossier& dossier, const Assembly& assembly, const Progress& progress) {
  const SpreadModel model(dossier.brief, assembly, dossier.stand_options, *dossier.ground);
  TieSpread out;
  out.states.resize(assembly.cases.size());
  std::atomic<std::size_t> done{0};
  for_each_index(out.states.size(), [&](std::size_t i) {
    out.states[i] = model.spread(assembly.cases[i], Tightened::kAtStriking, 0);
    progress.checkpoint("ground: feet on their ties",
                        static_cast<double>(++done) / static_cast<double>(out.states.size()));
  });
  return out;
}

bool thicker(const std::vector<TieForce>& before, const std::vector<TieForce>& after) {
  return !std::ranges::equal(before, after, [](const TieForce& a, const TieForce& b) {
    return b.diameter_m <= a.diameter_m;
  });
}

/// The dead load and the patterns that pull a rod hardest.
void keep_hardest(const Groundworks& ground, Assembly& assembly) {
  std::map<std::string, double> pull;
  for (const TieState& state : ground.cases) {
    for (const auto& rods : state.rod_force_n) {
      for (const double force : rods) pull[state.case_id] = std::max(pull[state.case_id], force);
    }
  }
  std::stable_sort(
      assembly.cases.begin(), assembly.cases.end(), [&](const LoadCase& a, const LoadCase& b) {
        return std::pair(a.has_live(), -pull[a.id]) < std::pair(b.has_live(), -pull[b.id]);
      });
  assembly.cases.resize(std::min(kHardest, assembly.cases.size()));
}

/// In place of those of an earlier round. A case that has no state on feet that stay fails for that
/// already.
void judge_on_ties(Dossier& dossier, std::vector<SpreadState> states) {
  std::erase_if(states, [&](const SpreadState& state) {
    const auto proof = std::ranges::find(dossier.proofs, state.case_id, &CaseProof::id);
    return proof == dossier.proofs.end() || !proof->pads || !proof->pads->found;
  });
  std::erase_if(dossier.tried,
                [](const TriedState& state) { return state.what.starts_with(kFeetOnTies); });
  std::ranges::move(tried_on_ties(states), std::back_inserter(dossier.tried));
}

}  // namespace

bool settle_feet(Dossier& dossier, const Progress& progress) {
  if (!sized(*dossier.ground)) return false;
  bool settled = false;
  std::vector<SpreadState> on_ties;
  Assembly assembly = with_patterns_only(dossier);
  const std::vector<CaseProof> proofs = pattern_proofs(dossier);
  for (int round = 0; round < kRounds && sized(*dossier.ground); ++round) {
    TieSpread spread = at_striking(dossier, assembly, progress);
    const std::vector<TieState> states = held_by_rods(spread, Tightened::kAtStriking);
    on_ties = std::move(spread.states);
    if (states.size() < assembly.cases.size()) {
      dossier.ground->remarks.push_back(
          std::to_string(assembly.cases.size() - states.size()) +
          " cases did not settle on elastic ties: the footings are judged as if they stayed");
      break;
    }
    Groundworks judged = judge_feet(dossier.brief, assembly, proofs, dossier.ground->laid, states,
                                    dossier.ground->ties);
    const bool again = thicker(dossier.ground->ties, judged.ties);
    dossier.ground = std::move(judged);
    settled = true;
    if (!again) break;
  }
  keep_hardest(*dossier.ground, assembly);
  dossier.spread =
      tie_spread(dossier.brief, assembly, dossier.stand_options, *dossier.ground, progress);
  for (const SpreadState& state : dossier.spread->states)
    if (state.warmer_k != 0) on_ties.push_back(state);
  judge_on_ties(dossier, std::move(on_ties));
  return settled;
}

}  // namespace skewback
