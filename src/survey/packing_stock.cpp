#include "survey/packing_stock.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <tuple>

namespace skewback {
namespace {
constexpr double kCell_m = 1e-5;
}

PackerStock::PackerStock(const PackingRequest& packing) : packing_(packing) {
  const int cells = static_cast<int>(std::floor(packing.most_m / kCell_m + 1e-6));
  pieces_.assign(static_cast<std::size_t>(cells + 1), -1);
  last_.assign(pieces_.size(), -1);
  sum_.assign(pieces_.size(), 0);
  pieces_[0] = 0;
  std::vector<int> thickness;
  for (const double t : packing.stock_m)
    thickness.push_back(static_cast<int>(std::lround(t / kCell_m)));
  for (int c = 1; c <= cells; ++c) {
    for (int i = 0; i < static_cast<int>(thickness.size()); ++i) {
      const int t = thickness[static_cast<std::size_t>(i)];
      if (t <= 0 || t > c || pieces_[static_cast<std::size_t>(c - t)] < 0) continue;
      int& here = pieces_[static_cast<std::size_t>(c)];
      // the thickest of those that need as few: the last one tried
      if (here >= 0 && pieces_[static_cast<std::size_t>(c - t)] + 1 > here) continue;
      here = pieces_[static_cast<std::size_t>(c - t)] + 1;
      last_[static_cast<std::size_t>(c)] = i;
      sum_[static_cast<std::size_t>(c)] =
          packing.stock_m[static_cast<std::size_t>(i)] + sum_[static_cast<std::size_t>(c - t)];
    }
  }
}

std::vector<double> PackerStock::fill(double gap_m) const {
  if (gap_m <= packing_.slack_m + 1e-6) return {};
  const double low = gap_m - packing_.slack_m - 1e-9,
               high = std::min(gap_m + packing_.squeeze_m, packing_.most_m) + 1e-9;
  int best = 0;
  const auto worth = [&](int c, double sum) {  // less is better
    const bool inside = sum >= low;
    return std::tuple(inside ? 0 : 1, inside ? pieces_[static_cast<std::size_t>(c)] : 0,
                      inside ? std::abs(sum - gap_m) : -sum);
  };
  double best_sum = 0;
  const int last = std::min(static_cast<int>(pieces_.size()) - 1,
                            static_cast<int>(std::ceil(high / kCell_m)) + 1);
  for (int c = 1; c <= last; ++c) {
    if (pieces_[static_cast<std::size_t>(c)] < 0) continue;
    const double sum = sum_of(c);
    if (sum > high || worth(c, sum) >= worth(best, best_sum)) continue;
    best = c;
    best_sum = sum;
  }
  return pieces_of(best);
}

std::vector<double> PackerStock::nearest(double gap_m) const {
  int best = 0;
  double off = std::max(0.0, gap_m);
  for (int c = 1; c < static_cast<int>(pieces_.size()); ++c) {
    if (pieces_[static_cast<std::size_t>(c)] < 0) continue;
    const double here = std::abs(sum_of(c) - gap_m);
    if (here >= off - 1e-9) continue;
    best = c;
    off = here;
  }
  return pieces_of(best);
}

std::vector<double> PackerStock::around(double gap_m, int count) const {
  std::vector<double> out;
  for (int c = 0; c < static_cast<int>(pieces_.size()); ++c) {
    if (pieces_[static_cast<std::size_t>(c)] >= 0) out.push_back(sum_of(c));
  }
  std::ranges::stable_sort(out, {}, [&](double sum) { return std::abs(sum - gap_m); });
  out.resize(std::min(out.size(), static_cast<std::size_t>(count)));
  return out;
}

std::vector<double> PackerStock::pieces_of(int cell) const {
  std::vector<double> out;
  for (int c = cell; c > 0;) {
    out.push_back(packing_.stock_m[static_cast<std::size_t>(last_[static_cast<std::size_t>(c)])]);
    c -= static_cast<int>(std::lround(out.back() / kCell_m));
  }
  std::ranges::sort(out, std::greater<>());
  return out;
}

}  // namespace skewback
