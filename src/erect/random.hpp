#pragma once
// Random numbers that are a function of their place, and durations made of them. Private to erect/.

#include <array>
#include <cstdint>
#include <vector>

namespace skewback {

/// Philox4x32-10 (Salmon, Moraes, Dror, Shaw 2011, "Parallel random numbers: as easy as 1, 2, 3").
[[nodiscard]] std::array<std::uint32_t, 4> philox(std::array<std::uint32_t, 4> counter,
                                                  std::array<std::uint32_t, 2> key);

/// Evenly in (0, 1): the `place`-th number of a stream of a draw.
[[nodiscard]] double even(std::uint64_t seed, std::uint64_t draw, std::uint32_t stream,
                          std::uint32_t place);
/// Places 0 to out.size() - 1 of that stream.
void fill_even(std::uint64_t seed, std::uint64_t draw, std::uint32_t stream,
               std::vector<double>& out);

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
