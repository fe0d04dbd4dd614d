#pragma once
// Matrices of 6 x 6 blocks on the graph of blocks of an assembly that are not symmetric, on the
// pattern of the Cholesky factor: Gauss elimination by blocks, pivots only inside diagonal blocks
// (Golub and Van Loan 2013, section 3.2.11). Good where the matrix is near a positive definite one;
// what it gives is for the caller to check.

#include <memory>

#include "solve/block_cholesky.hpp"

namespace skewback {

/// One matrix; for one thread at a time.
class BlockLu {
 public:
  explicit BlockLu(std::shared_ptr<const BlockPattern> pattern);
  ~BlockLu();
  BlockLu(BlockLu&&) noexcept;
  BlockLu& operator=(BlockLu&&) noexcept;

  void set_zero();
  /// Adds to the rows of node a and the columns of node b; a == b, or a pair of the pattern.
  void add(int a, int b, const Block6& block);
  /// In place: the matrix is used up. False: a diagonal block became singular.
  [[nodiscard]] bool factorise();
  void solve(VectorX& x) const;  // 6 x nodes, in place

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace skewback
