#pragma once
// Private to works/: loading the finished bridge to see whether it does what the model says.

#include "works/works.hpp"

namespace skewback {

/// People everywhere in four steps up to the characteristic load, feet on their ties where there
/// are any. None without people.
void plan_proof_load(Dossier& dossier, const Progress& progress);

}  // namespace skewback
