#include <Eigen/CholmodSupport>
#include <algorithm>

#include "solve/solve.hpp"

namespace skewback {

namespace {

bool same_pattern(const SparseMatrix& a, const SparseMatrix& b) {
  if (a.rows() != b.rows() || a.cols() != b.cols() || a.nonZeros() != b.nonZeros()) return false;
  return std::equal(a.outerIndexPtr(), a.outerIndexPtr() + a.outerSize() + 1, b.outerIndexPtr()) &&
         std::equal(a.innerIndexPtr(), a.innerIndexPtr() + a.nonZeros(), b.innerIndexPtr());
}

}  // namespace

struct SparseCholesky::State {
  Eigen::CholmodDecomposition<SparseMatrix, Eigen::Lower> factor;
  SparseMatrix pattern;  // of the last matrix, lower triangle
};

SparseCholesky::SparseCholesky() : state_(std::make_unique<State>()) {
  state_->factor.cholmod().print = 0;
  state_->factor.cholmod().final_ll = 1;  // an LDL factor would accept indefinite matrices
}
SparseCholesky::~SparseCholesky() = default;
SparseCholesky::SparseCholesky(SparseCholesky&&) noexcept = default;
SparseCholesky& SparseCholesky::operator=(SparseCholesky&&) noexcept = default;

bool SparseCholesky::factorise(const SparseMatrix& S) {
  SparseMatrix lower = S.triangularView<Eigen::Lower>();
  lower.makeCompressed();
  if (!same_pattern(lower, state_->pattern)) state_->factor.analyzePattern(lower);
  state_->factor.factorize(lower);
  state_->pattern = std::move(lower);
  return state_->factor.info() == Eigen::Success;
}

Eigen::MatrixXd SparseCholesky::solve(const Eigen::MatrixXd& rhs) const {
  return state_->factor.solve(rhs);
}

}  // namespace skewback
