#pragma once
// Durations made of random numbers. Private to erect/.

#include <cstdint>
#include <vector>

#include "base/random.hpp"

namespace skewback {

/// Regularised incomplete beta function I_x(a, b) by its continued fraction (DLMF 8.17.22).
[[nodiscard]] double beta_chance(double x, double a, double b);

/// Inverse of the beta distribution, from a table: quantiles at 4,096 even steps, straight between;
/// in the first and the last the power that it starts and ends with.
class BetaTable {
 public:
  BetaTable(double a, double b);
  [[nodiscard]] double at(double chance) const {  // chance in (0, 1)
    const double place = chance * static_cast<double>(kSteps);
    const auto i = static_cast<std::size_t>(place);
    if (i == 0 || i == kSteps - 1) return end(place);
    return points_[i] + (place - static_cast<double>(i)) * (points_[i + 1] - points_[i]);
  }

 private:
  static constexpr std::size_t kSteps = 4096;
  [[nodiscard]] double end(double place) const;
  double a_, b_;
  std::vector<double> points_;
};

}  // namespace skewback
