#pragma once
// Where a search for the form begins.

#include "brief/brief.hpp"
#include "form/force_density.hpp"
#include "form/mesh.hpp"

namespace skewback {

/// Points on parabolas from the supports to the crown; force along a fibre by the width it stands
/// for at its support, a little across. Not in equilibrium.
[[nodiscard]] Net start_net(const Brief& brief, const FibreMesh& mesh, double crown_z);

}  // namespace skewback
