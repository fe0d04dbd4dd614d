#pragma once
// A D A' for many diagonals D and one A: the pattern and the places of all products are found once.
// Used by the interior point and by whoever needs weighted least squares on the same A.

#include <vector>

#include "solve/solve.hpp"

namespace skewback {

class NormalMatrix {
 public:
  explicit NormalMatrix(const SparseMatrix& A);  // A must outlive this

  /// Lower triangle of A diag(d) A'; d one entry per column of A.
  const SparseMatrix& form(const VectorX& d);
  /// Adds to every diagonal entry of the matrix formed last.
  const SparseMatrix& shift(double amount);
  [[nodiscard]] const SparseMatrix& matrix() const { return S_; }

 private:
  const SparseMatrix& A_;
  SparseMatrix S_;
  std::vector<int> place_;     // of every product of two entries of one column, in S's values
  std::vector<int> diagonal_;  // of every diagonal entry
};

}  // namespace skewback
