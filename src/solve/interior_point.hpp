#pragma once
// Private to solve/: primal-dual interior point with predictor and corrector (Mehrotra 1992).

#include "solve/solve.hpp"

namespace skewback {

/// Fills x, y and iterations; says whether it met the tolerance by its own count. Programs without
/// an optimum end as "no".
[[nodiscard]] bool interior_point(const LinearProgram& program, const LpOptions& options,
                                  LpSummary& out);

}  // namespace skewback
