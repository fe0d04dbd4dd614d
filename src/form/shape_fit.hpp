#pragma once
// Bends the force densities of a net until its equilibrium comes near a wanted shape.

#include <vector>

#include "form/wish.hpp"

namespace skewback {

struct FitOptions {
  int steps_max = 30;
  double settled = 2e-5;  // largest move of a point in a step that ends the fit, by wish.unit_m
};

struct ShapeFit {
  Net net;
  double misfit = 0;  // 1/2 sum of weighted squares
  int steps = 0;
  int inner_steps = 0;   // of conjugate gradients, all steps together
  double move_m = 0;     // largest move of a point in the last step
  bool settled = false;  // move_m came under that
};

/// 1/2 |residuals|^2 of a net in equilibrium, and its gradient by the adjoint method with respect
/// to u = q / unit_q, one an edge.
struct Misfit {
  double value = 0;
  VectorX gradient;
};
[[nodiscard]] Misfit misfit(const Net& net, const std::vector<double>& downward,
                            const ShapeWish& wish);

/// Gauss-Newton on u, damped (Levenberg-Marquardt), inner systems by conjugate gradients over the
/// edges that do not press on their floors (projection: D. P. Bertsekas 1982, from memory). The net
/// comes back in equilibrium, its rise exact.
[[nodiscard]] Result<ShapeFit> fit_shape(const Net& net, const std::vector<double>& downward,
                                         const ShapeWish& wish, const FitOptions& options = {});

}  // namespace skewback
