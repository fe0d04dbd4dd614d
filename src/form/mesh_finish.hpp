#pragma once
// What is done to a fibre mesh once it is laid. Private to the folder.

#include "form/mesh.hpp"

namespace skewback {

/// Where a row meets its fibre aslant, as it does round the ends of an opening, fibre and row alone
/// cannot press square to the fibre: the shorter diagonal does.
void brace(FibreMesh& mesh);

/// Rounds the fibres where they turn past the meeting point: the interior is placed in plane
/// equilibrium with equal force densities, outline, eye and meeting point held. `hold`: of a spring
/// that keeps each point by where it was.
void round_fibres(double hold, FibreMesh& mesh);

/// The mesh if every quad is convex with positive area. Faults: the place of a fold.
[[nodiscard]] Result<FibreMesh> checked(FibreMesh mesh);

}  // namespace skewback
