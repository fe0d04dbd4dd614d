#pragma once
// Wind, snow, warmth and pushes on the footings. Private to works/. Theory: docs/theory/ground.md.

#include "base/progress.hpp"
#include "deliver/deliver.hpp"

namespace skewback {

/// Feet, rods and pads brought to one state (works/settle_feet.hpp), rods sized and footings judged
/// under patterns and combinations, again from the start while rods grow. Where the feet do not
/// settle on their ties the states are those of feet that stay.
void judge_ground(Dossier& dossier, const Progress& progress);

/// Patterns without reactions in dossier.ground, and why: "full (falls)". No footing is cleared
/// while there is one.
[[nodiscard]] std::vector<std::string> patterns_without_reactions(const Dossier& dossier);

}  // namespace skewback
