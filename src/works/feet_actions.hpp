#pragma once
// Wind, snow, warmth and pushes on the footings. Private to works/. Theory: docs/theory/ground.md.

#include "base/progress.hpp"
#include "deliver/deliver.hpp"

namespace skewback {

/// Judges the footings of dossier.ground under patterns and combinations. `settled`: its states are
/// those of feet on their ties, and so are then the states of the actions; else of feet that stay.
void judge_footings_under_actions(Dossier& dossier, bool settled, const Progress& progress);

}  // namespace skewback
