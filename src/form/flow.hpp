#pragma once
// Where the weight goes: membrane forces in plan, the flow v = N grad z, and the arms, its
// watershed.

#include <array>
#include <vector>

#include "form/form.hpp"

namespace skewback {

struct Membrane {
  std::vector<Eigen::Matrix2d> N;  // per vertex, N/m, > 0 compresses; averaged over patches
};

/// Patch stress: each edge gives q l (x) l to the patches of its two ends, half each, over the plan
/// area of the patch; then `smoothings` averages with the neighbours.
[[nodiscard]] Membrane membrane_forces(const Form& form, int smoothings);

struct Flow {                      // per triangle
  std::vector<Vec2> direction;     // unit, downhill: principal direction of N nearest -N grad z
  std::vector<Vec2> weight;        // -N grad z, N/m: its divergence is the load
  std::vector<double> anisotropy;  // (N1 - N2) / (N1 + N2)
};
[[nodiscard]] Flow flow_of_weight(const Form& form, const Membrane& membrane);

/// Support that most of the weight of each triangle ends in. Every arm is one connected piece that
/// touches its own support.
[[nodiscard]] std::vector<int> watershed(const Form& form, const Flow& flow, int supports);

/// Triangles across the three sides of each; side c is opposite corner c; -1 at the outline.
[[nodiscard]] std::vector<std::array<int, 3>> neighbours(const Form& form);

[[nodiscard]] double plan_area(const Form& form, std::size_t triangle);
/// Gradients of the three corner functions, 1/m.
[[nodiscard]] std::array<Vec2, 3> corner_gradients(const Form& form, std::size_t triangle);

}  // namespace skewback
