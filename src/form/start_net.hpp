#pragma once
// Where a search for the form begins.

#include "brief/brief.hpp"
#include "form/force_density.hpp"
#include "form/mesh.hpp"

namespace skewback {

/// Points on parabolas from the supports to the crown; force along a fibre by the width it stands
/// for at its support, a little across. Not in equilibrium.
[[nodiscard]] Net start_net(const Brief& brief, const FibreMesh& mesh, double crown_z);

/// The same plan with the forces of the least load path under these loads, in equilibrium with the
/// mean of the crown at its height. Faults: as first_form_by_load_path.
[[nodiscard]] Result<Net> start_by_load_path(const Brief& brief, const FibreMesh& mesh,
                                             const std::vector<double>& downward, double crown_z);

}  // namespace skewback
