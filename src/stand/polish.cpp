#include "stand/polish.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {

namespace {

/// A X^2 A' and its mean diagonal entry.
SparseMatrix normal_matrix(const SparseMatrix& A, const VectorX& x, double& mean) {
  const SparseMatrix AX = A * x.asDiagonal();
  const SparseMatrix AXt = AX.transpose();
  SparseMatrix S = AX * AXt;
  mean = S.rows() > 0 ? S.diagonal().sum() / static_cast<double>(S.rows()) : 0;
  return S;
}

bool factorise_shifted(const SparseMatrix& S, double shift, SparseCholesky& factor) {
  SparseMatrix I(S.rows(), S.cols());
  I.setIdentity();
  return factor.factorise(S + shift * I);
}

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
  double best_residual = (b - A * x).lpNorm<Eigen::Infinity>();
  for (int round = 0; round < kRounds && best_residual > kEnough; ++round) {
    double mean = 0;
    const SparseMatrix S = normal_matrix(A, x, mean);
    SparseCholesky factor;
    if (!factorise_shifted(S, kShift * mean, factor)) break;
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
  double mean = 0;
  const SparseMatrix S = normal_matrix(A, x.cwiseMax(0.0), mean);
  SparseCholesky factor;
  if (mean <= 0 || !factorise_shifted(S, kShift * mean, factor)) return u;
  VectorX v = u;
  for (int round = 0; round < kRounds; ++round) v = factor.solve(kShift * mean * v);
  return v.allFinite() ? v : u;
}

}  // namespace skewback
