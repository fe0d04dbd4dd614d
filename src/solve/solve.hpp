#pragma once
// The one door to solvers. Value in, summary out; every answer comes with residuals that were
// recomputed here from the data, not taken from the solver.

#include <Eigen/SparseCore>
#include <limits>
#include <memory>
#include <string>

#include "base/result.hpp"

namespace skewback {

using SparseMatrix = Eigen::SparseMatrix<double>;
using VectorX = Eigen::VectorXd;

/// minimise c'x  subject to  A x = b,  lower <= x <= upper.   A: m x n.
struct LinearProgram {
  SparseMatrix A;
  VectorX b, c, lower, upper;
};

enum class SolveStatus { kOptimal, kInfeasible, kUnbounded, kFailed };

struct LpOptions {
  double tolerance = 1e-9;   // relative, primal and dual; range 1e-12 to 1e-4
  int max_iterations = 300;  // interior-point steps before the simplex method takes over
};

struct LpSummary {
  SolveStatus status = SolveStatus::kFailed;
  std::string reason;  // in words when not optimal
  VectorX x;           // n
  VectorX y;           // m, dual of A x = b: c - A'y >= 0 where x is at its lower bound
  double objective = 0;
  double primal_residual = 0;  // max |A x - b| / (1 + max |b|)
  double bound_violation = 0;  // max over variables, absolute
  double gap_rel = 0;          // |primal - dual objective| / (1 + |primal|)
  int iterations = 0;
  double seconds = 0;
};

/// Interior point without crossover (predictor and corrector, Mehrotra 1992), so x is the centre of
/// the optimal face; the simplex method (Clp) where that does not converge.
[[nodiscard]] LpSummary solve(const LinearProgram& program, const LpOptions& options = {});

/// Sparse symmetric positive definite systems; keeps its factorisation (CHOLMOD).
class SparseCholesky {
 public:
  SparseCholesky();
  ~SparseCholesky();
  SparseCholesky(SparseCholesky&&) noexcept;
  SparseCholesky& operator=(SparseCholesky&&) noexcept;

  /// S symmetric, only the lower triangle is read. Keeps the symbolic part when the pattern is the
  /// same as in the last call. False: not positive definite.
  [[nodiscard]] bool factorise(const SparseMatrix& S);
  [[nodiscard]] Eigen::MatrixXd solve(const Eigen::MatrixXd& rhs) const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace skewback
