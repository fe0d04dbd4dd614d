#include "survey/one_off.hpp"

#include <cmath>

namespace skewback {

std::optional<std::size_t> one_off(const std::vector<Vec3>& drawn,
                                   const std::vector<Vec3>& measured,
                                   const std::vector<double>& accuracy_m, double gate) {
  if (drawn.size() != 3 || measured.size() != 3 || accuracy_m.size() != 3) return std::nullopt;
  const auto right = [&](std::size_t i, std::size_t j) {
    const double off = (measured[i] - measured[j]).norm() - (drawn[i] - drawn[j]).norm();
    return std::abs(off) <= gate * std::hypot(accuracy_m[i], accuracy_m[j]);
  };
  for (std::size_t i = 0; i < 3; ++i) {
    const std::size_t j = (i + 1) % 3, k = (i + 2) % 3;
    if (right(j, k) && !right(i, j) && !right(i, k)) return i;
  }
  return std::nullopt;
}

}  // namespace skewback
