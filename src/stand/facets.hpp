#pragma once
// Private to stand/: the cone program on faceted cones, a linear program. Slower, but it decides
// closer to the limit than the cone solver can, where slip is along a facet's corner.

#include "stand/limit.hpp"

namespace skewback {

enum class Facets {
  kInner,  // corners on the Coulomb cone, one pair on the contact's y: every answer is admissible
  kOuter   // sides touch the Coulomb cone, one pair square to y: every mechanism is valid
};

/// As least_support and largest_factor, `rays` generators to a contact (even, 8 or more). The first
/// looks for added forces and moments of least sum.
[[nodiscard]] Balance faceted_support(const Program& program, Facets facets, int rays,
                                      double tolerance);
[[nodiscard]] Balance faceted_factor(const Program& program, Facets facets, int rays, double cap,
                                     double tolerance);

}  // namespace skewback
