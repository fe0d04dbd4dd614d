#include "works/states.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "base/parallel.hpp"
#include "loads/actions.hpp"
#include "stand/pad_path.hpp"
#include "works/footing_moves.hpp"
#include "works/required_site.hpp"

namespace skewback {
namespace {

constexpr double kCreep = 0.35;      // 25 years, hardness 60; AASHTO, from memory
constexpr double kAccident = 0.020;  // m
constexpr std::size_t kShapes = 3;   // worst patterns on the moved shape

struct Trial {
  TriedState state;
  std::size_t load = 0;
  PadOptions pads;
  Situation situation = Situation::kLasting;
  bool weight_first = false;  // goes on from the state of the dead load
};

std::string figure(const char* format, double value) {
  char text[64];
  std::snprintf(text, sizeof text, format, value);
  return text;
}

class Trials {
 public:
  explicit Trials(const Dossier& dossier) : dossier_(dossier) {
    const auto& notes = dossier.notes;
    for (std::size_t i = 0; i < notes.size(); ++i) {
      if (notes[i].kind != CaseKind::kPattern) continue;
      if (notes[i].id == "dead") dead_ = i;
      if (notes[i].id == "full") full_ = i;
    }
  }

  void add(const std::string& what, std::size_t load, const PadOptions& pads) {
    Trial trial;
    trial.state.what = what;
    trial.state.case_id = dossier_.cut->assembly.cases[load].id;
    trial.load = load;
    trial.pads = pads;
    trial.pads.tolerance = 1e-7;
    found.push_back(std::move(trial));
  }

  void moved_shapes() {
    PadOptions pads;
    pads.moved_shape = true;
    if (dead_) add("balance on the moved shape", *dead_, pads);
    std::vector<std::size_t> worst = worst_patterns(dossier_);
    worst.resize(std::min(worst.size(), kShapes));
    pads.load_factor = dossier_.brief.required.live_factor;
    for (const std::size_t i : worst) {
      add("balance on the moved shape, people times " + figure("%.3g", pads.load_factor), i, pads);
    }
  }

  /// A second history beside that of the case itself, which puts everything on at once: where
  /// contacts slip the two may differ.
  void histories() {
    if (!dead_ || !dossier_.proofs[*dead_].pads || !dossier_.proofs[*dead_].pads->found) return;
    std::vector<std::size_t> worst = worst_patterns(dossier_);
    worst.resize(std::min(worst.size(), kShapes));
    for (const std::size_t i : worst) {
      add("weight first, then people", i, {});
      found.back().weight_first = true;
    }
  }

  void warmth() {
    const Loads& loads = dossier_.brief.loads;
    const Factors& f = dossier_.brief.factors;
    const std::vector<double> led = factors_6_10({{f.people}, {f.warmth, f.psi_warmth}});
    for (const double kelvin : {loads.warmer_k, -loads.colder_k}) {
      if (kelvin == 0) continue;
      const std::string way = kelvin > 0 ? " K warmer" : " K colder";
      PadOptions pads;
      pads.warmer_k = f.warmth * kelvin;
      if (dead_) add(figure("%.3g", std::abs(pads.warmer_k)) + way, *dead_, pads);
      pads.warmer_k = led[1] * kelvin;
      pads.load_factor = led[0];
      if (full_) {
        add(figure("%.3g", std::abs(pads.warmer_k)) + way + ", people times " +
                figure("%.3g", pads.load_factor),
            *full_, pads);
      }
    }
  }

  void accidents() {
    const Assembly& assembly = dossier_.cut->assembly;
    const auto load = full_ ? full_ : dead_;
    if (!load) return;
    for (const FootingReach& reach : dossier_.reach) {
      if (reach.way != "outward" && reach.way != "down") continue;
      PadOptions pads;
      pads.moves = {reach.unit};
      pads.moves[0].shift *= kAccident;
      add("accident: " + assembly.blocks[static_cast<std::size_t>(reach.block)].id +
              figure(" %.0f mm ", 1e3 * kAccident) + reach.way,
          *load, pads);
      found.back().situation = Situation::kAccident;
    }
  }

  [[nodiscard]] std::optional<std::size_t> full_or_dead() const { return full_ ? full_ : dead_; }

  [[nodiscard]] const PadState* dead_state() const { return &*dossier_.proofs[*dead_].pads; }

  std::vector<Trial> found;

 private:
  const Dossier& dossier_;
  std::optional<std::size_t> dead_, full_;
};

}  // namespace

std::vector<double> joint_limits(const Brief& brief, const Assembly& assembly,
                                 Situation situation) {
  std::vector<double> out;
  for (const Joint& joint : assembly.joints)
    out.push_back(situation == Situation::kLasting
                      ? joint_limit(brief, joint)
                      : std::max(concrete_limit_pa(brief, brief.factors.concrete_accident),
                                 brief.required.pad_stress_pa));
  return out;
}

std::string pressed_words(const Assembly& assembly, std::size_t joint, double peak_pa,
                          double limit_pa) {
  const Joint& j = assembly.joints[joint];
  return "joint " + assembly.blocks[static_cast<std::size_t>(j.a)].id + " | " +
         assembly.blocks[static_cast<std::size_t>(j.b)].id +
         figure(" is pressed by %.1f MPa", peak_pa / 1e6) +
         figure(" and takes %.1f", limit_pa / 1e6);
}

void take_state(const Assembly& assembly, const PadState& from, const std::vector<double>& limit_pa,
                TriedState& to) {
  to.holds = from.found;
  to.reason = from.reason;
  to.peak_pa = from.peak_pa;
  to.opening_max_m = from.opening_max_m;
  to.move_max_m = from.move_max_m;
  to.flattening = from.flattening;
  to.in_steps = from.in_steps;
  if (!from.found) return;
  std::size_t worst = 0;
  for (std::size_t j = 0; j < from.joints.size(); ++j) {
    const double share = from.joints[j].peak_pa / limit_pa[j];
    if (share <= to.pressed) continue;
    to.pressed = share;
    worst = j;
  }
  if (to.pressed <= 1) return;
  to.holds = false;
  to.reason = pressed_words(assembly, worst, from.joints[worst].peak_pa, limit_pa[worst]);
}

Assembly with_patterns_only(const Dossier& dossier) {
  Assembly out = dossier.cut->assembly;
  std::vector<LoadCase> kept;
  for (std::size_t i = 0; i < out.cases.size(); ++i) {
    if (dossier.notes[i].kind == CaseKind::kPattern) kept.push_back(std::move(out.cases[i]));
  }
  out.cases = std::move(kept);
  return out;
}

namespace {

std::vector<CaseProof> proofs_of(const Dossier& dossier, CaseKind kind) {
  std::vector<CaseProof> out;
  for (std::size_t i = 0; i < dossier.proofs.size(); ++i) {
    if (dossier.notes[i].kind == kind) out.push_back(dossier.proofs[i]);
  }
  return out;
}

}  // namespace

std::vector<CaseProof> pattern_proofs(const Dossier& dossier) {
  return proofs_of(dossier, CaseKind::kPattern);
}

std::vector<CaseProof> combination_proofs(const Dossier& dossier) {
  return proofs_of(dossier, CaseKind::kCombination);
}

void try_states(Dossier& dossier, const Progress& progress) {
  const Assembly& assembly = dossier.cut->assembly;
  Trials trials(dossier);
  trials.moved_shapes();
  trials.histories();
  trials.warmth();
  trials.accidents();
  progress.checkpoint("stand: warmth, creep, accidents", 0);
  const PadModel model(assembly, dossier.stand_options);
  const std::vector<double> lasting = joint_limits(dossier.brief, assembly, Situation::kLasting),
                            accident = joint_limits(dossier.brief, assembly, Situation::kAccident);
  for_each_index(trials.found.size(), [&](std::size_t i) {
    Trial& trial = trials.found[i];
    const LoadCase& load = assembly.cases[trial.load];
    const PadHistory* before = trial.weight_first ? &trials.dead_state()->after : nullptr;
    take_state(assembly, state_at_once_or_in_steps(model, load, trial.pads, before),
               trial.situation == Situation::kLasting ? lasting : accident, trial.state);
  });
  for (Trial& trial : trials.found) {
    for (CaseProof& proof : dossier.proofs) {
      if (proof.id == trial.state.case_id && trial.state.flattening)
        proof.flattening = trial.state.flattening;
    }
    dossier.tried.push_back(std::move(trial.state));
  }
  const auto load = trials.full_or_dead();
  if (!load || dossier.brief.joints.pad_thickness_m <= 0) return;
  PadOptions crept;
  crept.creep = kCreep;
  crept.tolerance = 1e-7;
  TriedState state;
  state.what = "pads crept by " + figure("%.0f %%", 100 * kCreep);
  state.case_id = assembly.cases[*load].id;
  take_state(assembly,
             PadModel(assembly, dossier.stand_options, crept).solve(assembly.cases[*load], crept),
             lasting, state);
  dossier.tried.push_back(std::move(state));
}

}  // namespace skewback
