#include "works/proof_load.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>

#include "base/parallel.hpp"

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
    if (best < 0 || z(b) > z(static_cast<std::size_t>(best))) best = static_cast<int>(b);
  }
  return best;
}

double height_moved(const Assembly& assembly, int block, const PadState& state) {
  const BlockVelocity& move = state.moves[static_cast<std::size_t>(block)];
  const Vec3 at = centre_of_gravity(assembly.blocks[static_cast<std::size_t>(block)]);
  return (move.v + move.w.cross(at)).z();
}

std::string joint_words(const Assembly& assembly, int joint) {
  if (joint < 0) return "";
  const Joint& j = assembly.joints[static_cast<std::size_t>(joint)];
  return assembly.blocks[static_cast<std::size_t>(j.a)].id + " | " +
         assembly.blocks[static_cast<std::size_t>(j.b)].id;
}

void note_ties(const Brief& brief, const Groundworks& ground, const std::string& id,
               ProofLoad::Step& step) {
  for (const TieState& state : ground.cases) {
    if (state.case_id != id || !state.balanced) continue;
    for (std::size_t t = 0; t < state.rod_force_n.size(); ++t) {
      for (const double force : state.rod_force_n[t]) {
        if (force <= step.tie_most_n) continue;
        step.tie_most_n = force;
        step.tie = brief.ground.ties[t].id;
      }
    }
  }
}

}  // namespace

void plan_proof_load(Dossier& dossier, const Progress& progress) {
  const Assembly& assembly = dossier.cut->assembly;
  const auto full = case_of(assembly, "full"), dead = case_of(assembly, "dead");
  if (!full || !dead || !dossier.proofs[*dead].pads || !dossier.proofs[*dead].pads->found) return;
  ProofLoad plan;
  plan.case_id = "full";
  for (const LiveForce& live : assembly.cases[*full].live) plan.load_n += live.force.norm();
  const int crown = highest(assembly);
  plan.crown = assembly.blocks[static_cast<std::size_t>(crown)].id;
  const double start = height_moved(assembly, crown, *dossier.proofs[*dead].pads);
  progress.checkpoint("ground: proof load", 0);
  const PadModel model(assembly, dossier.stand_options);
  plan.steps.resize(kSteps.size());
  for_each_index(kSteps.size(), [&](std::size_t i) {
    ProofLoad::Step& step = plan.steps[i];
    step.share = kSteps[i];
    PadOptions pads;
    pads.load_factor = kSteps[i];
    CaseProof proof;
    proof.id = "full";
    proof.verdict = Verdict::kStands;
    proof.pads = model.solve(assembly.cases[*full], pads);
    step.found = proof.pads->found;
    if (!step.found) return;
    step.crown_drop_m = start - height_moved(assembly, crown, *proof.pads);
    step.opening_m = proof.pads->opening_max_m;
    step.opening_joint = joint_words(assembly, proof.pads->opening_joint);
    note_ties(dossier.brief, hold_feet(dossier.brief, assembly, {dossier.proofs[*dead], proof}),
              "full", step);
  });
  dossier.proof_load = std::move(plan);
}

}  // namespace skewback
