#pragma once
// Private to stand/: the last digits, which solvers leave open.

#include "stand/program.hpp"

namespace skewback {

/// Moves forces inside their cones until A f = b to the last digits: least squares in the metric of
/// the cones' barrier at f, so that a force near the edge of its cone moves along the edge (Dikin
/// 1967). Returns the greatest residual; f may come back as it was.
double polish_forces(const Program& program, const VectorX& b, VectorX& f);

/// A dual, exact where contacts carry: inverse iteration on A D A', D as above.
[[nodiscard]] VectorX polish_mechanism(const Program& program, const VectorX& f, const VectorX& y);

}  // namespace skewback
