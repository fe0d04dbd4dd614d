#pragma once
// What may have gone wrong where points do not fit. Private to survey/.

#include <string>

#include "survey/weighted.hpp"

namespace skewback {

struct Suspicion {
  std::string text;     // empty: none
  bool of_all = false;  // mirrored or in another unit: no single point is to blame
};
/// Every simple mistake that would bring all points within the accuracies.
[[nodiscard]] Suspicion suspect(const PointPairs& pairs, const WeightedFit& fit, double gate,
                                const std::vector<std::string>& names);

/// Worse than the accuracies allow.
[[nodiscard]] bool too_far(const WeightedFit& fit, double gate);
/// Points of one plane that fit with what was up now down.
[[nodiscard]] bool upside_down(const WeightedFit& fit);

}  // namespace skewback
