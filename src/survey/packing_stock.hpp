#pragma once
// Private to survey/: packers put together from the thicknesses there are.

#include <vector>

#include "brief/survey_requests.hpp"

namespace skewback {

/// Sums of stock thicknesses up to `most`, repeats allowed.
class PackerStock {
 public:
  explicit PackerStock(const PackingRequest& packing);
  /// Thickest first. Fewest pieces whose sum is between gap - slack and gap + squeeze, of those the
  /// sum closest to the gap; where there is none, the greatest sum below. Empty up to a gap of
  /// slack.
  [[nodiscard]] std::vector<double> fill(double gap_m) const;

  /// The sum closest to the gap, fewest pieces, whether it is below or above.
  [[nodiscard]] std::vector<double> nearest(double gap_m) const;
  /// So many sums nearest to the gap, none of the stock at all among them, nearest first.
  [[nodiscard]] std::vector<double> around(double gap_m, int count) const;

 private:
  [[nodiscard]] std::vector<double> pieces_of(int cell) const;
  [[nodiscard]] double sum_of(int cell) const { return sum_[static_cast<std::size_t>(cell)]; }
  PackingRequest packing_;
  std::vector<int> pieces_, last_;  // per sum in steps of 10 um: fewest pieces, the last put in
  std::vector<double> sum_;         // and the sum itself
};

}  // namespace skewback
