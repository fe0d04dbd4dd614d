#pragma once
// One right-hand side, or four side by side, through a sparse factor L D L' that somebody else
// made.

#include <array>
#include <vector>

#include "solve/solve.hpp"

namespace skewback {

struct Kernels;
struct LaneView;

/// One row of four right-hand sides.
struct alignas(32) Lanes {
  std::array<double, 4> of{};
};

/// Every lane comes out as column by column solves would give it, to the last bit: in column order
/// on the way down, rows ascending on the way up, whatever the width of the vector unit.
class LaneSolve {
 public:
  /// L lower triangular, compressed, rows ascending, without its diagonal of ones, with the pattern
  /// of a Cholesky factor: the rows of a column, less the first, are all in the column of that
  /// first row.
  void plan(const SparseMatrix& L);
  /// New values in the same places. L must outlive the solves and stay where it is.
  void take(const SparseMatrix& L, const VectorX& pivots);

  /// What D does: by a division, or times its inverse, which differ in the last bit.
  enum class Pivots { kDivide, kInverse };
  /// In place; further rows are left alone.
  void solve(std::vector<Lanes>& y, Pivots pivots) const;
  void solve(VectorX& y, Pivots pivots) const;
  /// By kernels of a given width, for tests.
  void solve_with(const Kernels& kernels, std::vector<Lanes>& y, Pivots pivots) const;
  void solve_with(const Kernels& kernels, VectorX& y, Pivots pivots) const;

 private:
  [[nodiscard]] LaneView view() const;

  std::vector<int> upward_;
  VectorX pivots_, inverse_;
  const SparseMatrix* L_ = nullptr;
};

}  // namespace skewback
