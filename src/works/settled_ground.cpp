#include "works/settled_ground.hpp"

#include <algorithm>
#include <cstdio>

#include "base/parallel.hpp"
#include "ground/footing_checks.hpp"
#include "ground/reactions.hpp"
#include "stand/pad_path.hpp"
#include "works/footing_moves.hpp"
#include "works/states.hpp"

namespace skewback {
namespace {

constexpr std::size_t kPatterns = 3;

/// Empty where some footing's settlement is not known.
std::vector<BlockMove> settled(const Dossier& dossier) {
  const auto& supports = dossier.brief.plan.supports;
  const std::vector<int> block = ground_blocks(dossier.brief, dossier.cut->assembly);
  std::vector<BlockMove> out;
  for (std::size_t s = 0; s < supports.size(); ++s) {
    const auto& reports = dossier.ground->footings;
    const auto report = std::ranges::find(reports, supports[s].id, &FootingReport::id);
    if (report == reports.end() || block[s] < 0) return {};
    const auto gives = gives_way(supports[s], *report);
    if (!gives) return {};
    out.push_back({block[s], gives->shift, gives->turn, gives->about});
  }
  return out;
}

std::string apart(const std::vector<BlockMove>& moves) {
  double least = HUGE_VAL, most = 0;
  for (const BlockMove& move : moves) {
    least = std::min(least, -move.shift.z());
    most = std::max(most, -move.shift.z());
  }
  char text[80];
  std::snprintf(text, sizeof text, "%s by %.1f to %.1f mm and tilted", kSettledFeet, 1e3 * least,
                1e3 * most);
  return text;
}

}  // namespace

void try_settled_feet(Dossier& dossier, const Progress& progress) {
  const std::vector<BlockMove> moves = settled(dossier);
  if (moves.empty()) return;
  const Assembly& assembly = dossier.cut->assembly;
  struct Trial {
    std::size_t load = 0;
    double people = 1;
    TriedState state = {};
  };
  std::vector<Trial> trials;
  const auto dead = std::ranges::find(assembly.cases, "dead", &LoadCase::id);
  if (dead != assembly.cases.end())
    trials.push_back({static_cast<std::size_t>(dead - assembly.cases.begin())});
  std::vector<std::size_t> worst = worst_patterns(dossier);
  worst.resize(std::min(worst.size(), kPatterns));
  for (const std::size_t i : worst) trials.push_back({i, dossier.brief.required.live_factor});
  progress.checkpoint("ground: the bridge on settled footings", 0);
  const PadModel model(assembly, dossier.stand_options);
  const std::vector<double> limit_pa = joint_limits(dossier.brief, assembly, Situation::kLasting);
  for_each_index(trials.size(), [&](std::size_t i) {
    Trial& trial = trials[i];
    PadOptions pads;
    pads.moves = moves;
    pads.load_factor = trial.people;
    pads.tolerance = 1e-7;
    trial.state.what = apart(moves);
    trial.state.case_id = assembly.cases[trial.load].id;
    take_state(assembly, state_at_once_or_in_steps(model, assembly.cases[trial.load], pads),
               limit_pa, trial.state);
    if (trial.people != 1) {
      char text[40];
      std::snprintf(text, sizeof text, ", people times %.3g", trial.people);
      trial.state.what += text;
    }
  });
  for (Trial& trial : trials) dossier.tried.push_back(std::move(trial.state));
}

}  // namespace skewback
