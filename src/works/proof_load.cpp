#include "works/proof_load.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>

#include "base/parallel.hpp"
#include "works/tie_spread.hpp"

namespace skewback {
namespace {

constexpr std::array<double, 4> kSteps = {0.25, 0.5, 0.75, 1.0};

std::optional<std::size_t> case_of(const Assembly& assembly, const std::string& id) {
  for (std::size_t i = 0; i < assembly.cases.size(); ++i) {
    if (assembly.cases[i].id == id) return i;
  }
  return std::nullopt;
}

int highest(const Assembly& assembly) {
  int best = -1;
  for (std::size_t b = 0; b < assembly.blocks.size(); ++b) {
    if (assembly.blocks[b].fixed) continue;
    const auto z = [&](std::size_t i) { return centre_of_gravity(assembly.blocks[i]).z(); };
    if (best < 0 || z(b) > z(static_cast<std::size_t>(best)) + 1e-9) best = static_cast<int>(b);
  }
  return best;
}

double height_moved(const Assembly& assembly, int block, const PadState& state) {
  const BlockVelocity& move = state.moves[static_cast<std::size_t>(block)];
  const Vec3 at = centre_of_gravity(assembly.blocks[static_cast<std::size_t>(block)]);
  return (move.v + move.w.cross(at)).z();
}

LoadCase part_of(const LoadCase& load, double share) {
  LoadCase out = load;
  for (LiveForce& live : out.live) live.force *= share;
  return out;
}

/// Feet on their ties, tightened at striking.
void step_on_ties(const std::vector<Tie>& laid, const SpreadModel& model, const LoadCase& load,
                  double start, ProofLoad::Step& step) {
  const SpreadState state = model.spread(part_of(load, step.share), Tightened::kAtStriking, 0);
  step.found = state.settled;
  step.crown_drop_m = state.crown_drop_m - start;
  step.opening_m = state.opening_max_m;
  for (std::size_t t = 0; t < state.rod_force_n.size(); ++t) {
    for (const double force : state.rod_force_n[t]) {
      if (force <= step.tie_most_n) continue;
      step.tie_most_n = force;
      step.tie = t < laid.size() ? laid[t].id : "";
    }
  }
}

}  // namespace

void plan_proof_load(Dossier& dossier, const Progress& progress) {
  const Assembly& assembly = dossier.cut->assembly;
  const auto full = case_of(assembly, "full"), dead = case_of(assembly, "dead");
  if (!full || !dead || !dossier.proofs[*dead].pads || !dossier.proofs[*dead].pads->found) return;
  const LoadCase& load = assembly.cases[*full];
  ProofLoad plan;
  plan.case_id = "full";
  for (const LiveForce& live : load.live) plan.load_n += live.force.norm();
  const int crown = highest(assembly);
  plan.crown = assembly.blocks[static_cast<std::size_t>(crown)].id;
  plan.steps.resize(kSteps.size());
  for (std::size_t i = 0; i < kSteps.size(); ++i) plan.steps[i].share = kSteps[i];
  progress.checkpoint("service: proof load", 0);
  plan.on_ties = dossier.spread && !dossier.spread->states.empty();
  if (plan.on_ties) {
    const SpreadModel model(dossier.brief, assembly, dossier.stand_options, *dossier.ground);
    const SpreadState start = model.spread(assembly.cases[*dead], Tightened::kAtStriking, 0);
    for_each_index(kSteps.size(), [&](std::size_t i) {
      step_on_ties(dossier.ground->laid, model, load, start.crown_drop_m, plan.steps[i]);
    });
  } else {
    const double start = height_moved(assembly, crown, *dossier.proofs[*dead].pads);
    const PadModel model(assembly, dossier.stand_options);
    for_each_index(kSteps.size(), [&](std::size_t i) {
      ProofLoad::Step& step = plan.steps[i];
      const PadState state = model.solve(part_of(load, step.share), {});
      step.found = state.found;
      if (!state.found) return;
      step.crown_drop_m = start - height_moved(assembly, crown, state);
      step.opening_m = state.opening_max_m;
    });
  }
  dossier.proof_load = std::move(plan);
}

}  // namespace skewback
