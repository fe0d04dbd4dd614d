#pragma once
// Private to stand/: whether a friction is enough.

#include "stand/limit.hpp"

namespace skewback {

/// Forces with that friction in every joint and prop balance the case, view 1. `graph` as for
/// least_friction_on.
[[nodiscard]] bool friction_does(const Graph* graph, const LimitTask& task, double load_factor,
                                 double friction);

}  // namespace skewback
