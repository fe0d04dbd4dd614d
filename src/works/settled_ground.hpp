#pragma once
// Private to works/: the bridge on ground that has given way under its weight.

#include "deliver/deliver.hpp"

namespace skewback {

/// States of the pads with every footing settled and tilted as its report says: the weight alone,
/// then the three worst patterns with people times the factor required. Nothing where the stiffness
/// of the soil is not known.
void try_settled_feet(Dossier& dossier, const Progress& progress);

}  // namespace skewback
