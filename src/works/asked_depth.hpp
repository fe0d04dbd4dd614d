#pragma once
// Private to works/: the depth from the thrust where the brief asks for it.

#include "works/works.hpp"

namespace skewback {

/// Where section.depth asks for it, dossier.brief gets the depths found in place of those given
/// and asks no more; what was found goes to the dossier too. It is found by whole runs at depths of
/// their own, so nothing of this run is read. Faults: as depth_from_thrust.
[[nodiscard]] std::optional<Faults> take_asked_depth(Dossier& dossier, int jobs,
                                                     const Progress& progress);

}  // namespace skewback
