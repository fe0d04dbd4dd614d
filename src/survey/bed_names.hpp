#pragma once
// Whether the marks of a block's beds were named for one another. Private to survey/.

#include <array>
#include <string>
#include <utility>
#include <vector>

#include "survey/weighted.hpp"

namespace skewback {

struct NamedBeds {
  std::vector<std::string> beds;              // their names
  std::vector<std::array<Vec3, 5>> drawn;     // per bed its places
  std::vector<std::pair<int, int>> measured;  // per point its bed and place, as named
};

/// Exchanges of names that bring all points within the gate, in words; empty where the points are
/// within it as named, or none does: two beds for each other; the corners of one bed, or of all,
/// counted from another corner or the other way round; both together only where neither does.
[[nodiscard]] std::string names_exchanged(const NamedBeds& named, const PointPairs& pairs,
                                          double gate);

}  // namespace skewback
