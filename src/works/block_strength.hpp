#pragma once
// Private to works/: the states of the pads that the blocks must bear.

#include "works/works.hpp"

namespace skewback {

/// Every pattern with people times their partial factor, and every combination as it is, against
/// the strength of the blocks.
void check_strength(Dossier& dossier, const Progress& progress);

}  // namespace skewback
