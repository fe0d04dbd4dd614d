#include <algorithm>
#include <cassert>
#include <cmath>

#include "erect/spares.hpp"

namespace skewback {
namespace {

/// P(X <= most), X binomial of n and p in [0, 1).
double at_most(int n, double p, int most) {
  if (most >= n || !(p > 0)) return 1;
  double sum = 0;
  for (int k = 0; k <= most; ++k) {
    const double choose = std::lgamma(n + 1.0) - std::lgamma(k + 1.0) - std::lgamma(n - k + 1.0);
    sum += std::exp(choose + k * std::log(p) + (n - k) * std::log1p(-p));
  }
  return sum;
}

}  // namespace

double updated_share(double prior, double known_blocks, const BreakCount& count) {
  return (prior * known_blocks + count.broken) / (known_blocks + count.handled);
}

std::optional<Fault> too_many_spares(const Brief& brief, const Assembly& assembly) {
  const auto blocks =
      std::ranges::count_if(assembly.blocks, [](const Block& b) { return !b.fixed; });
  if (!brief.spares.wanted || brief.spares.count <= blocks) return std::nullopt;
  Fault fault;
  fault.file = brief.file.string();
  fault.line = brief.spares.count_line;
  fault.key = "spares.count";
  fault.found = std::to_string(brief.spares.count);
  fault.expected = "no more than the " + std::to_string(blocks) +
                   " blocks that this brief is cut into: a spare stands in for one block only";
  fault.change = "-1 takes as many as spares.late_risk asks";
  return fault;
}

int spares_for_alike(int good, double share, double wanted) {
  assert(good > 0 && share >= 0 && share < 1 && wanted < 1);
  int s = 0;
  while (at_most(good + s, share, s) < wanted) ++s;
  return s;
}

int newsvendor(int n, double share, double cost_under, double cost_over) {
  assert(n >= 0 && share >= 0 && share < 1);
  const double wanted = cost_under / (cost_under + cost_over);
  int s = 0;
  while (s < n && at_most(n, share, s) < wanted) ++s;
  return s;
}

}  // namespace skewback
