#include "stand/polish.hpp"

#include <algorithm>
#include <cmath>

#include "solve/normal_matrix.hpp"

namespace skewback {

namespace {

double longest_step(const VectorX& x, const VectorX& dx) {
  double step = 1;
  for (Eigen::Index j = 0; j < x.size(); ++j) {
    if (x[j] + dx[j] < 0) step = std::min(step, 0.9 * x[j] / -dx[j]);
  }
  return step;
}

}  // namespace

double polish_forces(const SparseMatrix& A, const VectorX& b, VectorX& x) {
  constexpr int kRounds = 12;
  constexpr double kEnough = 2e-14, kShift = 1e-13;
  if (b.size() == 0) return 0;
  x = x.cwiseMax(0.0);
  VectorX best = x;
  NormalMatrix normal(A);
  SparseCholesky factor;
  double best_residual = (b - A * x).lpNorm<Eigen::Infinity>();
  for (int round = 0; round < kRounds && best_residual > kEnough; ++round) {
    const double mean = normal.form(x.cwiseAbs2()).diagonal().mean();
    if (!factor.factorise(normal.shift(kShift * mean))) break;
    const VectorX z = factor.solve(b - A * x);
    const VectorX dx = x.cwiseAbs2().cwiseProduct(A.transpose() * z);
    if (!dx.allFinite()) break;
    x += longest_step(x, dx) * dx;
    x = x.cwiseMax(0.0);
    const double residual = (b - A * x).lpNorm<Eigen::Infinity>();
    if (residual < best_residual) {
      best = x;
      best_residual = residual;
    }
  }
  x = best;
  return best_residual;
}

VectorX polish_mechanism(const SparseMatrix& A, const VectorX& x, const VectorX& u) {
  constexpr int kRounds = 3;
  constexpr double kShift = 1e-9;
  NormalMatrix normal(A);
  SparseCholesky factor;
  const double mean = normal.form(x.cwiseMax(0.0).cwiseAbs2()).diagonal().mean();
  if (mean <= 0 || !factor.factorise(normal.shift(kShift * mean))) return u;
  VectorX v = u;
  for (int round = 0; round < kRounds; ++round) v = factor.solve(kShift * mean * v);
  return v.allFinite() ? v : u;
}

}  // namespace skewback
