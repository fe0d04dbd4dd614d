#pragma once
// Metres along the flow from each support, one field an arm.

#include <array>
#include <vector>

#include "form/flow.hpp"

namespace skewback {

struct PhiField {
  std::vector<std::array<double, 3>> phi;  // per triangle, at its corners
  std::vector<ArmQuality> arms;            // per support, then per half of a spine
};

/// For each arm of form.arm, with d the uphill flow:
///   minimise  integral of w [ (d.grad phi - 1)^2 + mu (d'.grad phi)^2 ],   phi = 0 on its support
///   line,
/// natural elsewhere; on the halves of a spine phi = 0 in its middle, then so much is added that it
/// goes on from the mean of its arms' at the meeting; w = |weight flow| times anisotropy, never
/// under a thousandth of its mean.
[[nodiscard]] PhiField fit_phi(const Form& form, const Flow& flow, int supports, double mu = 10,
                               const std::optional<SpineField>& spine = {});

}  // namespace skewback
