#include "ground/holding.hpp"

#include <algorithm>
#include <cmath>

#include "ground/reactions.hpp"
#include "ground/rods.hpp"
#include "ground/tied.hpp"
#include "stand/prove_steps.hpp"

namespace skewback {
namespace {

const CaseProof* proof_of(const std::vector<CaseProof>& proofs, const std::string& id) {
  const auto it = std::ranges::find(proofs, id, &CaseProof::id);
  return it == proofs.end() ? nullptr : &*it;
}

/// Looks in a proof of the bridge with its feet free for a state that bridge and rods can carry
/// together; keeps `state` and says why if there is none.
void hold_together(const Brief& brief, const std::vector<Rod>& rods, const Assembly& tied,
                   const std::vector<int>& ground, const LoadCase& load, const CaseProof& proof,
                   const CaseProof* dead, TieState& state) {
  auto supports = at_factor_one(brief, tied, ground, load, proof, dead);
  if (supports.empty()) {
    state.reason +=
        "; with its feet free in plan and so held the bridge has no state of equilibrium";
    if (!proof.reason.empty()) state.reason += " (" + proof.reason + ")";
    return;
  }
  TieState together = held_state(brief, load.id, std::move(supports), rods);
  if (together.balanced) state = std::move(together);
}

/// Tries that for every case not yet balanced; names of those mended go to `together`.
void hold_loose(const Brief& brief, const Assembly& assembly, const std::vector<Rod>& rods,
                bool on_ground, std::vector<TieState>& states, std::vector<std::string>& together) {
  if (std::ranges::all_of(states, &TieState::balanced)) return;
  TiedBridge tied = tie(brief, assembly, rods, on_ground);
  const auto held = [&](const LoadCase& load) {
    const auto it = std::ranges::find(states, load.id, &TieState::case_id);
    return it == states.end() || it->balanced;
  };
  std::erase_if(tied.assembly.cases,
                [&](const LoadCase& load) { return load.has_live() && held(load); });
  const std::vector<CaseProof> proofs = limit_forces(tied.assembly, tied.options);
  const std::vector<int> ground = ground_blocks(brief, assembly);
  const LoadCase* dead = dead_case(assembly);
  const CaseProof* dead_proof = dead == nullptr ? nullptr : proof_of(proofs, dead->id);
  for (TieState& state : states) {
    if (state.balanced) continue;
    for (std::size_t i = 0; i < proofs.size(); ++i) {
      if (proofs[i].id != state.case_id) continue;
      hold_together(brief, rods, tied.assembly, ground, tied.assembly.cases[i], proofs[i],
                    dead_proof, state);
    }
    if (state.balanced) together.push_back(state.case_id);
  }
}

}  // namespace

const LoadCase* dead_case(const Assembly& assembly) {
  const auto it = std::ranges::find_if(assembly.cases, [](const auto& c) { return !c.has_live(); });
  return it == assembly.cases.end() ? nullptr : &*it;
}

TieState held_state(const Brief& brief, const std::string& id,
                    std::vector<SupportReaction> supports, const std::vector<Rod>& rods) {
  TieState state;
  state.case_id = id;
  const FootingBalance found = hold_in_plan(supports, rods, brief.ground.ground_shear_n);
  state.supports = std::move(supports);
  state.rod_force_n.resize(brief.ground.ties.size());
  for (std::size_t k = 0; k < rods.size(); ++k) {
    state.rod_force_n[rods[k].tie].push_back(found.rod_force[k]);
  }
  for (std::size_t i = 0; i < found.shear.size(); ++i) {
    const Vec3 shear(found.shear[i].x(), found.shear[i].y(), 0);
    state.ground_shear_n.push_back(found.balanced ? Vec3(shear + found.missing[i]) : shear);
  }
  state.residual_rel = found.residual_rel;
  state.balanced = found.balanced;
  state.reason = found.reason;
  return state;
}

Held hold(const Brief& brief, const Assembly& assembly, const std::vector<CaseProof>& proofs) {
  Held held;
  const std::vector<Rod> rods = rods_of(brief.plan.supports, brief.ground.ties);
  const std::vector<int> ground = ground_blocks(brief, assembly);
  const LoadCase* dead = dead_case(assembly);
  const CaseProof* dead_proof = dead == nullptr ? nullptr : proof_of(proofs, dead->id);
  for (const LoadCase& load : assembly.cases) {
    const CaseProof* proof = proof_of(proofs, load.id);
    if (proof == nullptr) continue;
    auto supports = at_factor_one(brief, assembly, ground, load, *proof, dead_proof);
    if (supports.empty()) {
      held.without_reactions.push_back(load.id);
      continue;
    }
    held.states.push_back(held_state(brief, load.id, std::move(supports), rods));
  }
  // without rods the ground takes whatever the pads ask for; another state would not be theirs
  if (rods.empty()) return held;
  hold_loose(brief, assembly, rods, false, held.states, held.together);
  if (brief.ground.ground_shear_n > 0)
    hold_loose(brief, assembly, rods, true, held.states, held.together);
  return held;
}

}  // namespace skewback
