#pragma once
// Rod forces of every case, for the ties of a brief. Private to ground/.

#include "ground/footings.hpp"
#include "ground/ground.hpp"

namespace skewback {

/// The dead load: the first case with nothing to multiply; null if there is none.
[[nodiscard]] const LoadCase* dead_case(const Assembly& assembly);

struct Held {
  std::vector<TieState> states;                // in the order of the cases
  std::vector<std::string> without_reactions;  // cases without a state at load factor 1
  std::vector<std::string> together;           // held by a state found with the feet free in plan
};

/// These reactions with the rods and ground shear of the brief; not `balanced`, with the best of
/// them, where they do not hold the feet.
[[nodiscard]] TieState held_state(const Brief& brief, const std::string& id,
                                  std::vector<SupportReaction> supports,
                                  const std::vector<Rod>& rods);

/// By the reactions on fixed ground; cases that rods and shear do not hold so are tried again with
/// the feet free.
[[nodiscard]] Held hold(const Brief& brief, const Assembly& assembly,
                        const std::vector<CaseProof>& proofs);

}  // namespace skewback
