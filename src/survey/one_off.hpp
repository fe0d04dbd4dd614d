#pragma once
// Which of three marks is off, by their distances alone. Private to survey/.

#include <optional>
#include <vector>

#include "geometry/geometry.hpp"

namespace skewback {

/// The one of three points whose distances to both others are not the drawn ones by more than
/// `gate` standard deviations, while theirs is within that. None where that is no one, as of a mark
/// that went round another.
[[nodiscard]] std::optional<std::size_t> one_off(const std::vector<Vec3>& drawn,
                                                 const std::vector<Vec3>& measured,
                                                 const std::vector<double>& accuracy_m,
                                                 double gate);

}  // namespace skewback
