#pragma once
// One geometry, many loads: the forces of the same net under another load, with its thrust surface
// as near to the middle surface as the search can bring it, by the depth there.

#include "form/form.hpp"

namespace skewback {

struct PatternForces {
  std::vector<double> q;     // per edge of the form, N/m, > 0
  std::vector<Vec3> points;  // thrust surface: in balance with the load
  // greatest distance from the middle surface, square to it, over half the depth there: within the
  // depth up to 1. An upper bound on what the load needs of this net: a better one may exist.
  double share = 0;
  int worst = -1;           // vertex where that is
  double plan_shift_m = 0;  // farthest that a point had to move along the surface, in plan
  double thrust_max_n = 0;  // horizontal, largest support
  double residual_rel = 0;  // largest node residual over the whole load
};

/// `depth_m` and `downward_n` per vertex of the form. The springings stay in the middle of the
/// depth. Least largest distance by reweighted squares (C. L. Lawson 1961, from memory). Faults: a
/// load that no push of this net holds up.
[[nodiscard]] Result<PatternForces> pattern_forces(const Form& form,
                                                   const std::vector<double>& depth_m,
                                                   const std::vector<double>& downward_n);

}  // namespace skewback
