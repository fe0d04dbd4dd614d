#pragma once
// Private to works/: feet, rods and pads brought to one state, and the ground judged by it.

#include "works/works.hpp"

namespace skewback {

/// Every pattern with the rods tightened at striking; rods sized and footings judged by that, again
/// while a rod's size changes. Then what stretch and warmth do in the dead load and the patterns
/// that pull a rod hardest. These states, tightened at striking, are then among dossier.tried.
/// False: dossier.ground has its states as they were, since there are no
/// ties or some case did not settle.
bool settle_feet(Dossier& dossier, const Progress& progress);

}  // namespace skewback
