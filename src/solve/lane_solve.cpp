#include "solve/lane_solve.hpp"

#include <algorithm>
#include <cassert>
#include <numeric>

#include "solve/kernels.hpp"

namespace skewback {

// By depth in the elimination tree, so that neighbours in the order seldom wait for each other.
void LaneSolve::plan(const SparseMatrix& L) {
  assert(L.isCompressed());
  const int n = static_cast<int>(L.cols());
  const int *start = L.outerIndexPtr(), *row = L.innerIndexPtr();
  std::vector<int> depth(static_cast<std::size_t>(n), 0);
  for (int j = n - 1; j >= 0; --j) {
    if (start[j] < start[j + 1])
      depth[static_cast<std::size_t>(j)] = depth[static_cast<std::size_t>(row[start[j]])] + 1;
  }
  upward_.resize(static_cast<std::size_t>(n));
  std::iota(upward_.begin(), upward_.end(), 0);
  std::stable_sort(upward_.begin(), upward_.end(), [&](int a, int b) {
    return depth[static_cast<std::size_t>(a)] < depth[static_cast<std::size_t>(b)];
  });
}

void LaneSolve::take(const SparseMatrix& L, const VectorX& pivots) {
  assert(upward_.size() == static_cast<std::size_t>(L.cols()));
  L_ = &L;
  pivots_ = pivots;
  inverse_ = pivots.cwiseInverse();
}

LaneView LaneSolve::view() const {
  return {static_cast<int>(L_->cols()),
          L_->outerIndexPtr(),
          L_->innerIndexPtr(),
          L_->valuePtr(),
          pivots_.data(),
          inverse_.data(),
          upward_.data()};
}

void LaneSolve::solve(std::vector<Lanes>& y, Pivots pivots) const {
  solve_with(best_kernels(), y, pivots);
}

void LaneSolve::solve(VectorX& y, Pivots pivots) const { solve_with(best_kernels(), y, pivots); }

void LaneSolve::solve_with(const Kernels& kernels, std::vector<Lanes>& y, Pivots pivots) const {
  assert(y.size() >= upward_.size());
  if (upward_.empty()) return;
  kernels.solve_lanes(view(), y.front().of.data(), pivots == Pivots::kDivide);
}

void LaneSolve::solve_with(const Kernels& kernels, VectorX& y, Pivots pivots) const {
  assert(static_cast<std::size_t>(y.size()) >= upward_.size());
  if (upward_.empty()) return;
  kernels.solve_lane(view(), y.data(), pivots == Pivots::kDivide);
}

}  // namespace skewback
