#pragma once
// Private to verify/: whether what is left out of balance can be taken up inside the cones.

#include "verify/check.hpp"

namespace skewback::audit {

/// Contact forces balance to some residual r, never to nothing. If there are changes of the forces,
/// each smaller than its distance to the edge of its own cone, whose wrenches add up to -r, then
/// forces that balance exactly exist inside all cones: the claim holds as a theorem, up to the
/// rounding of these sums. Looked for: the changes with the least sum of squares, each over its
/// distance. Fills `rigorous`, `margin_used`, `left_rel` and `not_rigorous`.
void absorb_residual(const Model& model, const std::vector<Contact>& contacts,
                     const Evidence& evidence, const LoadSet& loads, double load_factor,
                     EvidenceVerdict& verdict);

/// The contact that can carry a force of the evidence: the place it lies on best; null if none.
[[nodiscard]] const Contact* contact_of(const std::vector<Contact>& contacts,
                                        const Evidence& evidence, const Evidence::Force& force,
                                        double weight);

}  // namespace skewback::audit
