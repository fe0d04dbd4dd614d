#pragma once
// Private to solve/: the block Cholesky factorisation on several threads. Whole subtrees of the
// elimination tree go each to one thread; what is above them goes panel by panel, lines shared out.
// The split hangs on the pattern alone and every entry is the result of the same operations in the
// same order, so the answer is the same, bit by bit, for any number of threads; the factor also the
// same as without a split.

#include "solve/kernels.hpp"

namespace skewback {

struct BlockSubtree {
  int begin = 0, end = 0;  // panels
  int limit = 0;           // first place beyond
};

struct BlockPull {  // rows q0 .. q1 - 1 of a panel lie in a later one
  int panel = 0, q0 = 0, q1 = 0;
};

struct BlockSplit {
  std::vector<BlockSubtree> subtrees;
  std::vector<int> above;        // the other panels, ascending
  std::vector<int> pulls_begin;  // per panel above, and one more
  std::vector<BlockPull> pulls;
  /// Per entry of BlockPattern::rows beyond its subtree: which of the rows of the subtree's last
  /// panel it is; else -1.
  std::vector<int> number;
  [[nodiscard]] bool empty() const { return subtrees.empty(); }
};

/// Empty where one factorisation is too short to be shared out.
[[nodiscard]] BlockSplit split_of(const BlockPattern& pattern);

/// As Kernels::factorise and Kernels::solve. `scratch`: what solve() needs, made by it.
[[nodiscard]] int factorise(const BlockSplit& split, const Kernels& kernels,
                            const FactorView& view);
void solve(const BlockSplit& split, const Kernels& kernels, const FactorView& view,
           std::vector<double>& scratch, double* const* x, int count);

}  // namespace skewback
