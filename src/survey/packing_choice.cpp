// The least choice of edges that keeps a set of cuts: deeper and deeper in cost, each cut's own
// least cost by shares as the bound.

#include <algorithm>
#include <cmath>
#include <numeric>

#include "survey/packing_fewest.hpp"

namespace skewback {
namespace {

constexpr double kKept = 1 - 1e-7;
enum : char { kFree, kIn, kOut };

class Search {
 public:
  Search(const std::vector<int>& cost, const std::vector<EdgeCut>& cuts, long nodes)
      : cost_(cost), cuts_(cuts), nodes_(nodes), state_(cost.size(), kFree) {
    for (const EdgeCut& cut : cuts) {
      std::vector<std::size_t> order;
      for (std::size_t e = 0; e < cost.size(); ++e)
        if (cut.share[e] > 1e-9) order.push_back(e);
      std::ranges::stable_sort(order, [&](std::size_t a, std::size_t b) {
        return cut.share[a] * cost[b] > cut.share[b] * cost[a];
      });
      order_.push_back(order);
      deficit_.push_back(1);
    }
  }
  /// A choice of cost `most` or less; empty: none, or out of nodes.
  bool find(int most) { return deeper(most); }
  [[nodiscard]] bool spent() const { return nodes_ <= 0; }
  [[nodiscard]] std::vector<char> choice() const {
    std::vector<char> out;
    for (const char s : state_) out.push_back(s == kIn ? 1 : 0);
    return out;
  }

 private:
  /// By shares of edges; infinite where the free ones do not do.
  [[nodiscard]] double least_for(std::size_t c) const {
    double left = deficit_[c] - (1 - kKept), sum = 0;
    for (const std::size_t e : order_[c]) {
      if (left <= 0) break;
      if (state_[e] != kFree) continue;
      const double share = cuts_[c].share[e];
      sum += std::min(1.0, left / share) * cost_[e];
      left = share < left ? left - share : 0;
    }
    return left > 0 ? 1e300 : sum;
  }
  void put(std::size_t e, char state, double way) {
    state_[e] = state;
    for (std::size_t c = 0; c < cuts_.size(); ++c) deficit_[c] -= way * cuts_[c].share[e];
  }
  bool deeper(int left) {
    if (--nodes_ <= 0) return false;
    double most = 0;
    std::size_t worst = cuts_.size();
    for (std::size_t c = 0; c < cuts_.size(); ++c) {
      if (deficit_[c] <= 1 - kKept) continue;
      const double least = least_for(c);
      if (std::ceil(least - 1e-6) > left) return false;
      if (worst == cuts_.size() || least > most) {
        most = least;
        worst = c;
      }
    }
    if (worst == cuts_.size()) return true;
    std::vector<std::size_t> out;
    bool found = false;
    for (const std::size_t e : order_[worst]) {
      if (state_[e] != kFree) continue;
      if (cost_[e] <= left) {
        put(e, kIn, 1);
        found = deeper(left - cost_[e]);
        if (found) break;
        put(e, kFree, -1);
      }
      state_[e] = kOut;
      out.push_back(e);
      if (spent() || std::ceil(least_for(worst) - 1e-6) > left) break;
    }
    for (const std::size_t e : out) state_[e] = kFree;
    return found;
  }

  const std::vector<int>& cost_;
  const std::vector<EdgeCut>& cuts_;
  long nodes_;
  std::vector<char> state_;
  std::vector<std::vector<std::size_t>> order_;
  std::vector<double> deficit_;
};

}  // namespace

LeastChoice least_choice(const std::vector<int>& cost, const std::vector<EdgeCut>& cuts, int from,
                         int most, long nodes) {
  Search search(cost, cuts, nodes);
  for (int bound = from; bound < most; ++bound) {
    if (search.find(bound)) return {bound, search.choice()};
    if (search.spent()) return {bound, std::nullopt};
  }
  return {most, std::nullopt};
}

}  // namespace skewback
