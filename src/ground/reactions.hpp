#pragma once
// What the ground gives to the bridge, read from the evidence of a proof. Private to ground/.

#include <vector>

#include "ground/ground.hpp"

namespace skewback {

/// Per support, by the joints between its ground block (`ground`, -1: none) and the bridge.
/// Supports without a ground block get zero.
[[nodiscard]] std::vector<SupportReaction> reactions(const Brief& brief, const Assembly& assembly,
                                                     const std::vector<int>& ground,
                                                     const Forces& forces);

/// (1 - share) * a + share * b. Both in equilibrium and inside the friction cones, so is this.
[[nodiscard]] std::vector<SupportReaction> mixed(const std::vector<SupportReaction>& a,
                                                 const std::vector<SupportReaction>& b,
                                                 double share);

/// The reactions at load factor 1: those of the pads, where there is a state of them; else those of
/// view 1 in `proof` if it has them, else dead and proof mixed
/// (`dead` may be null). Empty when the proof has no forces or its factor is above 1 and there is
/// no dead state.
[[nodiscard]] std::vector<SupportReaction> at_factor_one(
    const Brief& brief, const Assembly& assembly, const std::vector<int>& ground,
    const LoadCase& load, const CaseProof& proof, const CaseProof* dead);

/// Index of the ground block of each support, -1 if there is none.
[[nodiscard]] std::vector<int> ground_blocks(const Brief& brief, const Assembly& assembly);

[[nodiscard]] Vec3 springing_middle(const Support& support);

}  // namespace skewback
