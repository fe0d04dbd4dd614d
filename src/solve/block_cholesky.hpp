#pragma once
// Symmetric positive definite matrices of 6 x 6 blocks on the graph of blocks of an assembly: one
// symbolic analysis for many matrices, then a supernodal Cholesky factorisation (Ng and Peyton
// 1993) with kernels for the width of the vector unit at hand. The answer does not depend on that
// width, bit by bit.

#include <array>
#include <memory>
#include <vector>

#include "solve/solve.hpp"

namespace skewback {

using Block6 = Eigen::Matrix<double, 6, 6>;

class BlockPattern;  // order of elimination and the places of all blocks; immutable, for any thread

/// pairs: nodes whose block off the diagonal may be filled; a != b, any order, repeats allowed.
/// Nodes are 0 .. nodes - 1. Order: approximate minimum degree, or nested dissection where CHOLMOD
/// offers it and it costs fewer operations.
[[nodiscard]] std::shared_ptr<const BlockPattern> analyse(
    int nodes, const std::vector<std::array<int, 2>>& pairs);

/// One matrix; for one thread at a time (solve and multiply share scratch space).
class BlockCholesky {
 public:
  explicit BlockCholesky(std::shared_ptr<const BlockPattern> pattern);
  ~BlockCholesky();
  BlockCholesky(BlockCholesky&&) noexcept;
  BlockCholesky& operator=(BlockCholesky&&) noexcept;

  void set_zero();
  void add_diagonal(int node, const Block6& block);  // block symmetric
  /// Adds the block in the rows of a and the columns of b, and its transpose at (b, a). The pair
  /// must be in the pattern.
  void add_pair(int a, int b, const Block6& rows_a_columns_b);

  /// Every diagonal entry d is taken as d (1 + regularise_rel). The matrix added up is kept, so it
  /// may be called again. False: a pivot was not positive, see failed_node().
  [[nodiscard]] bool factorise(double regularise_rel = 0);
  [[nodiscard]] int failed_node() const;  // -1: none

  void solve(VectorX& x) const;                       // 6 x nodes, in place
  void multiply(const VectorX& x, VectorX& y) const;  // y = matrix x, without regularisation
  [[nodiscard]] std::size_t factor_blocks() const;    // blocks of the factor
  [[nodiscard]] double flops() const;                 // of one factorisation

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace skewback
