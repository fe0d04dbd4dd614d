#pragma once
// What a form's cross-sections are held to: level, without kinks.

#include "form/force_density.hpp"
#include "form/mesh.hpp"
#include "solve/solve.hpp"

namespace skewback {

/// Rows of a linear map of the points' heights, each wanted to be zero: the height of a point over
/// the centreline of its arm as far from the support, and second differences across. Distances are
/// those of `points` in plan.
[[nodiscard]] SparseMatrix levelness(const FibreMesh& mesh, const std::vector<Vec3>& points);

}  // namespace skewback
