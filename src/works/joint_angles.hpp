#pragma once
// Private to works/: how square the joints are to what crosses them.

#include "works/works.hpp"

namespace skewback {

/// Dead load's resultants and the angles between joints and the force across their courses, from
/// the proofs; as it was where no case of weight alone has a state of the pads.
void judge_angles(Dossier& dossier);

}  // namespace skewback
