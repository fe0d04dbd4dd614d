#pragma once
// Private to works/: the proof asked again with people at their worst place and footings moved.

#include "works/works.hpp"

namespace skewback {

/// Starts from the cases with the least load factors.
void find_worst_pattern(Dossier& dossier, const Progress& progress);

/// How far each footing may move under weight alone; then the ten worst cases with each footing
/// moved by the tolerance each way.
void move_footings(Dossier& dossier, const Progress& progress);

}  // namespace skewback
