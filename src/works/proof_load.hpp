#pragma once
// Private to works/: loading the finished bridge to see whether it does what the model says.

#include "works/works.hpp"

namespace skewback {

/// People everywhere in four steps, from the pads at the characteristic load; rods by hold_feet.
/// None without people.
void plan_proof_load(Dossier& dossier, const Progress& progress);

}  // namespace skewback
