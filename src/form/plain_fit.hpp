#pragma once
// For briefs that ask for nothing but the rise. Bends the force densities of a net until its
// equilibrium comes near a wanted shape.

#include <vector>

#include "form/force_density.hpp"
#include "solve/solve.hpp"

namespace skewback::plain {

struct ShapeWish {
  std::vector<Vec2> drawn;          // per point: where it should be in plan
  std::vector<double> plan_weight;  // per point; 0: anywhere
  SparseMatrix level;               // level * z = 0 wanted; one column a point
  double level_weight = 1;
  std::vector<int> crown;  // their mean is kept at height crown_z
  double crown_z = 0;
  std::vector<double> floor_q;  // per edge; q stays above
};

struct ShapeFit {
  Net net;
  double misfit = 0;  // 1/2 sum of weighted squares, m2
  int steps = 0;
};

/// 1/2 |misfit|^2 of a net in equilibrium, and its gradient by the adjoint method with respect to
/// u = log(q - floor), one an edge.
struct Misfit {
  double value = 0;
  VectorX gradient;
};
[[nodiscard]] Misfit misfit(const Net& net, const std::vector<double>& downward,
                            const ShapeWish& wish);

/// Gauss-Newton on u, damped (Levenberg-Marquardt), inner systems by conjugate gradients. `net`
/// must have every q above its floor; comes back in equilibrium.
[[nodiscard]] Result<ShapeFit> fit_shape(const Net& net, const std::vector<double>& downward,
                                         const ShapeWish& wish, int steps_max);

}  // namespace skewback::plain
