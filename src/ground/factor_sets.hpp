#pragma once
// Private to ground/: the sets of factors that a combination is tried with.

#include "ground/bearing.hpp"
#include "loads/loads.hpp"

namespace skewback {

/// Weight high (6.10, or 6.10a and 6.10b) and, where it differs, low; variable actions in the order
/// of `parts`, the first leads.
[[nodiscard]] std::vector<FactorSet> factor_sets(const GroundFactors& factors,
                                                 const std::vector<ActionPart>& parts);

/// "1.35 weight + 1.5 wind-east".
[[nodiscard]] std::string in_words(const std::vector<ActionPart>& parts, const FactorSet& factors);

}  // namespace skewback
