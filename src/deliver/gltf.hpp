#pragma once
// The blocks as a glTF 2.0 binary file (Khronos, ISO/IEC 12113:2022), for viewers.

#include <string>

#include "deliver/deliver.hpp"

namespace skewback::deliver {

/// One named node for each block, pad and ground block below a root node that turns z up into y up.
/// Metres, single precision about the meeting point's plan position, which the root node's `extras`
/// give back; flat normals; mass, course and place in `extras`. `dossier.cut` must be there.
[[nodiscard]] std::string blocks_glb(const Dossier& dossier);

}  // namespace skewback::deliver
