#pragma once
// What the codes put together with weight and people. Private to loads/.

#include "loads/loads.hpp"
#include "loads/patterns.hpp"

namespace skewback {

/// Adds the combinations to a set that has its patterns.
void add_combinations(const Brief& brief, const Assembly& assembly,
                      const std::vector<Regions>& outlines, const Regions& surface,
                      const std::vector<Pattern>& patterns, double deck_m, LoadSet& set);

}  // namespace skewback
