#include "ground/ground.hpp"

#include <algorithm>
#include <cmath>

#include "ground/footings.hpp"
#include "ground/reactions.hpp"
#include "ground/sizing.hpp"
#include "ground/tied.hpp"
#include "ground/words.hpp"

namespace skewback {
namespace {

std::vector<Rod> rods_of(const Brief& brief) {
  std::vector<Rod> rods;
  for (int t = 0; t < static_cast<int>(brief.ground.ties.size()); ++t) {
    const Tie& tie = brief.ground.ties[t];
    const Vec2 from = springing_middle(brief.plan.supports[tie.from]).head<2>();
    const Vec2 to = springing_middle(brief.plan.supports[tie.to]).head<2>();
    const Vec2 along = (to - from).normalized(), across(-along.y(), along.x());
    for (int k = 0; k < tie.rods; ++k) {
      const double share = tie.rods > 1 ? static_cast<double>(k) / (tie.rods - 1) - 0.5 : 0.0;
      const Vec2 shift = share * tie.spacing_m * across;
      rods.push_back({t, tie.from, tie.to, from + shift, to + shift});
    }
  }
  return rods;
}

const CaseProof* proof_of(const std::vector<CaseProof>& proofs, const std::string& id) {
  const auto it = std::ranges::find(proofs, id, &CaseProof::id);
  return it == proofs.end() ? nullptr : &*it;
}

/// The dead load: the first case with nothing to multiply.
const LoadCase* dead_case(const Assembly& assembly) {
  const auto it = std::ranges::find_if(assembly.cases, [](const auto& c) { return !c.has_live(); });
  return it == assembly.cases.end() ? nullptr : &*it;
}

TieState state_from(const Brief& brief, const std::string& id,
                    std::vector<SupportReaction> supports, const std::vector<Rod>& rods) {
  TieState state;
  state.case_id = id;
  std::vector<Footing> footings;
  for (const SupportReaction& s : supports) {
    footings.push_back({s.id, s.point.head<2>(), s.force.head<2>(), s.moment.z()});
  }
  const FootingBalance found = balance(footings, rods, brief.ground.ground_shear_n);
  state.supports = std::move(supports);
  state.rod_force_n.resize(brief.ground.ties.size());
  for (std::size_t k = 0; k < rods.size(); ++k) {
    state.rod_force_n[rods[k].tie].push_back(found.rod_force[k]);
  }
  for (const Vec2& shear : found.shear) state.ground_shear_n.emplace_back(shear.x(), shear.y(), 0);
  state.residual_rel = found.residual_rel;
  state.balanced = found.balanced;
  state.reason = found.reason;
  return state;
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
  TieState together = state_from(brief, load.id, std::move(supports), rods);
  if (together.balanced) state = std::move(together);
}

/// Tries that for every case not yet balanced; names of those mended go to `together`.
void hold_loose(const Brief& brief, const Assembly& assembly, const std::vector<Rod>& rods,
                bool on_ground, std::vector<TieState>& states, std::vector<std::string>& together) {
  if (std::ranges::all_of(states, &TieState::balanced)) return;
  const TiedBridge tied = tie(brief, assembly, rods, on_ground);
  const std::vector<CaseProof> proofs = limit_loads(tied.assembly, tied.options);
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

std::vector<TieForce> size_ties(const Brief& brief, const std::vector<Rod>& rods,
                                const std::vector<TieState>& states, const LoadCase* dead,
                                std::vector<std::string>& remarks) {
  std::vector<TieForce> ties;
  for (std::size_t t = 0; t < brief.ground.ties.size(); ++t) {
    TieForce tie;
    tie.id = brief.ground.ties[t].id;
    for (const Rod& rod : rods) {
      if (rod.tie == static_cast<int>(t)) tie.length_m = rod.length();
    }
    for (const TieState& state : states) {
      const std::vector<double>& forces = state.rod_force_n[t];
      if (dead != nullptr && state.case_id == dead->id) tie.rod_force_n = forces;
      if (!state.balanced) continue;
      for (const double f : forces) {
        tie.governing_n = std::max(tie.governing_n, f * brief.ground.tie_factor);
      }
    }
    for (const double f : tie.rod_force_n) tie.force_n += f;
    const auto diameter = rod_diameter(tie.governing_n, brief.ground.rod_yield_pa);
    tie.diameter_m = diameter.value_or(0);
    if (!diameter) {
      remarks.push_back("tie " + tie.id + ": no rod of the series carries " +
                        kilonewtons(tie.governing_n) + "; use more rods or stronger steel");
    }
    ties.push_back(std::move(tie));
  }
  return ties;
}

void add_remarks(const Brief& brief, const Groundworks& works,
                 const std::vector<std::string>& together, std::vector<std::string>& remarks) {
  remarks.emplace_back(
      "reactions and rod forces are those of the pads at load factor 1, on footings that stay "
      "where "
      "they are; where the pads have no state, of one state of equilibrium among many (view 1). "
      "Another history of loading can have more or less thrust");
  if (!together.empty()) {
    std::string text =
        "the state of the proof on fixed ground would turn or push the footings in a way their "
        "rods and "
        "ground shear cannot hold; another state, found with the feet free in plan, is given for:";
    for (const std::string& id : together) text += " " + id;
    remarks.push_back(text);
  }
  for (const TieState& state : works.cases) {
    if (!state.balanced) remarks.push_back("case " + state.case_id + " not held: " + state.reason);
  }
  if (!works.ties.empty()) {
    remarks.emplace_back(
        "rods: shank only, A f_y / 1.0 (EN 1993-1-1 6.2.3, from memory); threads, anchors, "
        "corrosion, "
        "the loss of a rod and its stretch are not checked");
  }
  for (const SupportReaction& s : works.supports) {
    double lever = 0;
    for (const Tie& tie : brief.ground.ties) {
      const auto& ends = brief.plan.supports;
      if (ends[tie.from].id == s.id || ends[tie.to].id == s.id) {
        lever = std::max(lever, s.point.z() - tie.level_m);
      }
    }
    if (lever <= 0) continue;
    remarks.push_back("footing " + s.id + ": ties " + metres(lever) +
                      " below the springing leave an overturning moment of " +
                      kilonewton_metres(lever * s.thrust_n) + " under dead load, not solved here");
  }
}

}  // namespace

Groundworks hold_feet(const Brief& brief, const Assembly& assembly,
                      const std::vector<CaseProof>& proofs) {
  Groundworks works;
  const std::vector<Rod> rods = rods_of(brief);
  const std::vector<int> ground = ground_blocks(brief, assembly);
  const LoadCase* dead = dead_case(assembly);
  const CaseProof* dead_proof = dead == nullptr ? nullptr : proof_of(proofs, dead->id);
  for (const LoadCase& load : assembly.cases) {
    const CaseProof* proof = proof_of(proofs, load.id);
    if (proof == nullptr) continue;
    auto supports = at_factor_one(brief, assembly, ground, load, *proof, dead_proof);
    if (supports.empty()) {
      works.remarks.push_back("case " + load.id +
                              ": no state of equilibrium at load factor 1, so no reactions");
      continue;
    }
    works.cases.push_back(state_from(brief, load.id, std::move(supports), rods));
  }

  std::vector<std::string> together;
  if (!rods.empty()) hold_loose(brief, assembly, rods, false, works.cases, together);
  if (brief.ground.ground_shear_n > 0) {
    hold_loose(brief, assembly, rods, true, works.cases, together);
  }
  for (const TieState& state : works.cases) {
    if (dead != nullptr && state.case_id == dead->id) works.supports = state.supports;
  }
  works.ties = size_ties(brief, rods, works.cases, dead, works.remarks);
  add_remarks(brief, works, together, works.remarks);
  return works;
}

}  // namespace skewback
