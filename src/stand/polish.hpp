#pragma once
// Private to stand/: takes the last solver error out of an interior-point answer.

#include "solve/solve.hpp"

namespace skewback {

/// Moves x >= 0 as little as possible, each entry in proportion to its own size, until A x = b.
/// Returns max |A x - b|; x stays non-negative.
double polish_forces(const SparseMatrix& A, const VectorX& b, VectorX& x);

/// Moves u so that column' u = 0 wherever x is large, leaving its part along the near null space
/// of A X^2 A' (the mechanism) as it is. x: the multipliers dual to u.
[[nodiscard]] VectorX polish_mechanism(const SparseMatrix& A, const VectorX& x, const VectorX& u);

}  // namespace skewback
