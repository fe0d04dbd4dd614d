#pragma once
// Where the weight goes: membrane forces in plan, the flow v = N grad z, and the arms, its
// watershed.

#include <array>
#include <optional>
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

/// Between two meetings: the part of the surface that is an arm at either of them.
struct SpineField {
  std::vector<int> half;          // per triangle: 0 beside the first meeting, 1; -1 off the spine
  std::vector<char> middle;       // per vertex: 1 where the halves meet
  std::array<int, 2> meeting{};   // vertices
  std::array<Vec2, 2> to_middle;  // unit, from either meeting
};

/// Support that most of the weight of each triangle ends in; on a spine its half, counted on from
/// the supports. Every arm is one connected piece that touches its own support.
[[nodiscard]] std::vector<int> watershed(const Form& form, const Flow& flow, int supports,
                                         const std::optional<SpineField>& spine = {});

/// On a spine the flow is taken as towards the meeting of its half: where weight hardly flows the
/// principal direction does not say which way.
void turn_to_meetings(const SpineField& spine, Flow& flow);

/// Triangles across the three sides of each; side c is opposite corner c; -1 at the outline.
[[nodiscard]] std::vector<std::array<int, 3>> neighbours(const Form& form);

[[nodiscard]] double plan_area(const Form& form, std::size_t triangle);
/// Gradients of the three corner functions, 1/m.
[[nodiscard]] std::array<Vec2, 3> corner_gradients(const Form& form, std::size_t triangle);

}  // namespace skewback
