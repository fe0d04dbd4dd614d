#include <algorithm>
#include <cmath>
#include <coin/ClpSimplex.hpp>
#include <vector>

#include "base/timing.hpp"
#include "solve/interior_point.hpp"
#include "solve/solve.hpp"

namespace skewback {

namespace {

constexpr double kNoBound = 1e300;

double bound(double value) { return std::clamp(value, -COIN_DBL_MAX, COIN_DBL_MAX); }

void load(ClpModel& model, const LinearProgram& lp) {
  SparseMatrix A = lp.A;
  A.makeCompressed();
  const auto n = static_cast<std::size_t>(A.cols());
  std::vector<double> lower(n), upper(n);
  for (std::size_t j = 0; j < n; ++j) {
    lower[j] = bound(lp.lower[static_cast<Eigen::Index>(j)]);
    upper[j] = bound(lp.upper[static_cast<Eigen::Index>(j)]);
  }
  std::vector<CoinBigIndex> start(A.outerIndexPtr(), A.outerIndexPtr() + A.cols() + 1);
  model.loadProblem(static_cast<int>(A.cols()), static_cast<int>(A.rows()), start.data(),
                    A.innerIndexPtr(), A.valuePtr(), lower.data(), upper.data(), lp.c.data(),
                    lp.b.data(), lp.b.data());
  model.setLogLevel(0);
}

void read_answer(const ClpModel& model, const LinearProgram& lp, LpSummary& out) {
  out.x = Eigen::Map<const VectorX>(model.primalColumnSolution(), lp.A.cols());
  out.y = Eigen::Map<const VectorX>(model.dualRowSolution(), lp.A.rows());
  out.iterations += model.numberIterations();
}

/// What the answer is worth, from the data alone. Returns the worst dual infeasibility.
double measure(const LinearProgram& lp, LpSummary& out) {
  const double b_max = lp.b.size() > 0 ? lp.b.lpNorm<Eigen::Infinity>() : 0.0;
  out.objective = lp.c.dot(out.x);
  out.primal_residual =
      lp.b.size() > 0 ? (lp.A * out.x - lp.b).lpNorm<Eigen::Infinity>() / (1 + b_max) : 0.0;
  const VectorX reduced = lp.c - lp.A.transpose() * out.y;
  double dual_objective = lp.b.dot(out.y), dual_infeasible = 0;
  out.bound_violation = 0;
  for (Eigen::Index j = 0; j < out.x.size(); ++j) {
    out.bound_violation =
        std::max({out.bound_violation, lp.lower[j] - out.x[j], out.x[j] - lp.upper[j]});
    const double at = reduced[j] >= 0 ? lp.lower[j] : lp.upper[j];
    if (std::abs(at) < kNoBound) {
      dual_objective += reduced[j] * at;
    } else {
      dual_infeasible = std::max(dual_infeasible, std::abs(reduced[j]));
    }
  }
  out.gap_rel = std::abs(out.objective - dual_objective) / (1 + std::abs(out.objective));
  return dual_infeasible;
}

bool good(const LinearProgram& lp, LpSummary& out, double tolerance) {
  if (!out.x.allFinite() || !out.y.allFinite()) return false;
  const double c_max = lp.c.size() > 0 ? lp.c.lpNorm<Eigen::Infinity>() : 0.0;
  const double dual = measure(lp, out) / (1 + c_max);
  return std::max({out.primal_residual, out.bound_violation, out.gap_rel, dual}) <= tolerance;
}

bool by_interior_point(const LinearProgram& lp, const LpOptions& options, LpSummary& out) {
  const bool converged = interior_point(lp, options, out);
  return out.x.size() == lp.A.cols() && good(lp, out, (converged ? 10 : 100) * options.tolerance);
}

void by_simplex(const LinearProgram& lp, const LpOptions& options, LpSummary& out) {
  ClpSimplex model;
  load(model, lp);
  model.setPrimalTolerance(std::max(options.tolerance, 1e-10));
  model.setDualTolerance(std::max(options.tolerance, 1e-10));
  model.dual();
  if (!model.isProvenOptimal()) model.primal();
  read_answer(model, lp, out);
  if (model.isProvenOptimal()) {
    out.status = good(lp, out, 1e-6) ? SolveStatus::kOptimal : SolveStatus::kFailed;
    if (out.status == SolveStatus::kFailed)
      out.reason = "simplex answer fails the check of residuals";
  } else if (model.isProvenPrimalInfeasible()) {
    out.status = SolveStatus::kInfeasible;
    out.reason = "no point satisfies the equations and bounds";
  } else if (model.isProvenDualInfeasible()) {
    out.status = SolveStatus::kUnbounded;
    out.reason = "the objective has no lower limit";
  } else {
    out.reason = "simplex stopped with status " + std::to_string(model.status());
  }
}

}  // namespace

LpSummary solve(const LinearProgram& lp, const LpOptions& options) {
  const Stopwatch clock;
  LpSummary out;
  if (by_interior_point(lp, options, out)) {
    out.status = SolveStatus::kOptimal;
  } else {
    by_simplex(lp, options, out);
  }
  out.seconds = clock.seconds();
  return out;
}

}  // namespace skewback
