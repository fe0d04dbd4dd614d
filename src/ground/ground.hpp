#pragma once
// What holds the feet: reactions, thrust, ties and rods, footings, shoes. The values are in
// ground_parts.hpp. Theory: docs/theory/ground.md.

#include "brief/brief.hpp"
#include "ground/ground_parts.hpp"
#include "stand/stand.hpp"

namespace skewback {

/// What a springing pushes outward, level, square to its line, N.
struct SpringingThrust {
  std::string id, case_id;
  std::optional<double> pads_n;               // in the state of the pads
  std::optional<double> least_n, greatest_n;  // of all states inside the cones; none: not found, or
                                              // without bound
};

struct Groundworks {
  std::vector<SupportReaction> supports;  // dead load
  std::vector<Tie> laid;                  // as drawn, or those chosen where every pair may be tied
  std::vector<TieForce> ties;             // of `laid`: dead load, sized over all cases
  std::vector<TieState> cases;
  std::vector<FootingReport> footings;  // empty where the dead load has no state
  std::optional<AddingUp> adding_up;    // of the footings' combinations
  std::optional<Raft> raft;  // where ties are barred or leave thrust that no footing holds
  TieLayout layout;
  std::vector<LossState> losses;
  std::vector<Shoe> shoes;               // where the pads have a state
  std::vector<SpringingThrust> thrusts;  // works/thrust_ranges.hpp
  std::vector<std::string> remarks;
};

/// Sizes the ties, looks for the layout with the least steel, tries the loss of each tie and rod,
/// sizes the shoes; footings: judge_footings. Reactions are those of the pads, else of view 1 (one
/// state among many); said in remarks. With ground.every_pair the ties are those of the best
/// layout.
[[nodiscard]] Groundworks hold_feet(const Brief& brief, const Assembly& assembly,
                                    const std::vector<CaseProof>& proofs);

/// The same for ties and states that are known already, as those in which feet, rods and pads have
/// settled together. States of every case wanted, the dead load among them. No rod gets thinner
/// than in `at_least` (of `laid`; none: any).
[[nodiscard]] Groundworks judge_feet(const Brief& brief, const Assembly& assembly,
                                     const std::vector<CaseProof>& proofs,
                                     const std::vector<Tie>& laid,
                                     const std::vector<TieState>& states,
                                     const std::vector<TieForce>& at_least = {});

/// Rods of brief.ground.ties under the reactions in `forces`, which balance on fixed ground; not
/// `balanced` where something else (a centring) takes part of the thrust.
[[nodiscard]] TieState tie_state(const Brief& brief, const Assembly& assembly,
                                 const std::string& id, const Forces& forces);

/// Variable actions beside the patterns: a state of the feet with each at characteristic value and
/// the weight as it is, and what is on together. Pattern states may be parts of combinations.
struct FootingActions {
  std::vector<TieState> states;
  std::vector<FootingCombination> combinations;
  std::vector<std::string> missing;  // actions asked for that have no state: no footing is cleared
  std::string how;                   // in words, how the states were found
};
/// Fills the footings, and remarks on them, from the states and ties in `works`: every pattern and
/// the combinations given. Once for one `works`.
void judge_footings(const Brief& brief, const Assembly& assembly, const FootingActions& actions,
                    Groundworks& works);

/// Makes the rods of `works` as thick as the same combinations ask, with the brief's factors. True:
/// some grew, so that its states, losses and shoes are of thinner rods.
[[nodiscard]] bool size_rods(const Brief& brief, const Assembly& assembly,
                             const FootingActions& actions, Groundworks& works);

/// The shoes again, for combinations too (proofs with all factors on) and the ties as they are.
void judge_shoes(const Brief& brief, const Assembly& assembly,
                 const std::vector<CaseProof>& patterns, const std::vector<CaseProof>& combinations,
                 Groundworks& works);

}  // namespace skewback
