#include "ground/nnls.hpp"

#include <Eigen/QR>
#include <algorithm>
#include <vector>

namespace skewback {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

VectorXd solve_passive(const MatrixXd& A, const VectorXd& b, const std::vector<char>& passive) {
  std::vector<int> columns;
  for (int j = 0; j < A.cols(); ++j) {
    if (passive[j]) columns.push_back(j);
  }
  VectorXd x = VectorXd::Zero(A.cols());
  if (columns.empty()) return x;
  const MatrixXd part = A(Eigen::all, columns);
  x(columns) = part.colPivHouseholderQr().solve(b);
  return x;
}

/// Moves x towards the trial as far as no passive entry turns negative, and releases those that hit
/// 0.
void step_towards(const VectorXd& trial, std::vector<char>& passive, VectorXd& x) {
  double step = 1;
  for (int j = 0; j < x.size(); ++j) {
    if (passive[j] && trial[j] <= 0) step = std::min(step, x[j] / (x[j] - trial[j]));
  }
  x += step * (trial - x);
  const double floor = 1e-14 * x.cwiseAbs().maxCoeff();
  for (int j = 0; j < x.size(); ++j) {
    if (passive[j] && x[j] <= floor && trial[j] <= 0) {
      passive[j] = 0;
      x[j] = 0;
    }
  }
}

}  // namespace

VectorXd nnls(const MatrixXd& A, const VectorXd& b) {
  VectorXd x = VectorXd::Zero(A.cols());
  std::vector<char> passive(A.cols(), 0);
  const double tolerance = 1e-12 * std::max(1e-300, (A.transpose() * b).cwiseAbs().maxCoeff());
  for (int round = 0; round < 3 * A.cols() + 10; ++round) {
    const VectorXd gradient = A.transpose() * (b - A * x);
    int best = -1;
    for (int j = 0; j < A.cols(); ++j) {
      if (!passive[j] && gradient[j] > tolerance && (best < 0 || gradient[j] > gradient[best])) {
        best = j;
      }
    }
    if (best < 0) break;
    passive[best] = 1;
    for (int inner = 0; inner <= A.cols(); ++inner) {
      const VectorXd trial = solve_passive(A, b, passive);
      bool feasible = true;
      for (int j = 0; j < A.cols(); ++j) feasible = feasible && (!passive[j] || trial[j] > 0);
      if (feasible) {
        x = trial;
        break;
      }
      step_towards(trial, passive, x);
    }
  }
  return x;
}

}  // namespace skewback
