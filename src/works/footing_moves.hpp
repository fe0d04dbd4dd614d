#pragma once
// Private to works/: the proof asked again with people at their worst place and footings moved.

#include "works/works.hpp"

namespace skewback {

/// Patterns with live load, the least load factor first; those at the cap by the peak of the pads.
[[nodiscard]] std::vector<std::size_t> worst_patterns(const Dossier& dossier);

/// Starts from the patterns with the least load factors; the worst found joins the cases.
void find_worst_pattern(Dossier& dossier, const StandOptions& proof, const Progress& progress);

/// How far each footing may move under weight alone; then the ten worst patterns with each footing
/// moved by the tolerance each way.
void move_footings(Dossier& dossier, const Progress& progress);

}  // namespace skewback
