#include "form/free_system.hpp"

#include <algorithm>
#include <cassert>
#include <utility>

namespace skewback {
namespace {

// Where entry (row, column) stands among the values.
int place(const SparseMatrix& D, int row, int column) {
  const int *begin = D.innerIndexPtr() + D.outerIndexPtr()[column],
            *end = D.innerIndexPtr() + D.outerIndexPtr()[column + 1];
  return int(std::lower_bound(begin, end, row) - D.innerIndexPtr());
}

}  // namespace

FreeSystem::FreeSystem(const Net& net) : index_(net.points.size(), -1) {
  for (std::size_t i = 0; i < net.points.size(); ++i)
    if (!net.fixed[i]) index_[i] = count_++;
  std::vector<Eigen::Triplet<double>> entries;
  for (const NetEdge& e : net.edges) {
    const int a = index_[e.a], b = index_[e.b];
    if (a >= 0) entries.emplace_back(a, a, e.q);
    if (b >= 0) entries.emplace_back(b, b, e.q);
    if (a >= 0 && b >= 0) {
      entries.emplace_back(a, b, -e.q);
      entries.emplace_back(b, a, -e.q);
    }
  }
  D_.resize(count_, count_);
  D_.setFromTriplets(entries.begin(), entries.end());
  for (const NetEdge& e : net.edges) {
    const int a = index_[e.a], b = index_[e.b];
    const bool both = a >= 0 && b >= 0;
    where_.push_back({a >= 0 ? place(D_, a, a) : -1, b >= 0 ? place(D_, b, b) : -1,
                      both ? place(D_, a, b) : -1, both ? place(D_, b, a) : -1});
  }
  factor_.analyzePattern(D_);
  const auto& order = factor_.permutationP().indices();
  order_.assign(order.data(), order.data() + order.size());
  row_.assign(index_.size(), count_);
  for (std::size_t i = 0; i < index_.size(); ++i)
    if (index_[i] >= 0) row_[i] = order_[index_[i]];
  factorise();
}

void FreeSystem::refactor(const Net& net) {
  assert(net.edges.size() == where_.size() && net.points.size() == index_.size());
  double* value = D_.valuePtr();
  std::fill(value, value + D_.nonZeros(), 0.0);
  for (std::size_t k = 0; k < where_.size(); ++k) {
    const double q = net.edges[k].q;
    const auto [aa, bb, ab, ba] = where_[k];
    if (aa >= 0) value[aa] += q;
    if (bb >= 0) value[bb] += q;
    if (ab >= 0) value[ab] -= q;
    if (ba >= 0) value[ba] -= q;
  }
  factorise();
}

void FreeSystem::factorise() {
  factor_.factorize(D_);
  if (factor_.info() != Eigen::Success) return;
  const SparseMatrix& L = factor_.matrixL().nestedExpression();
  if (!std::exchange(planned_, true)) lanes_.plan(L);
  lanes_.take(L, factor_.vectorD());
}

bool FreeSystem::ok() const {
  return count_ == 0 || (factor_.info() == Eigen::Success && factor_.vectorD().minCoeff() > 0);
}

FreeSystem::Sides FreeSystem::right_side(const Net& net, const std::vector<Vec3>& load) const {
  Sides b = no_sides();
  const auto subtract = [&](int point, const Vec3& push) {
    for (int c = 0; c < 3; ++c) b[row_[point]].of[c] -= push[c];
  };
  for (std::size_t i = 0; i < index_.size(); ++i)
    if (index_[i] >= 0)
      for (int c = 0; c < 3; ++c) b[row_[i]].of[c] += load[i][c];
  for (const NetEdge& e : net.edges) {
    if (index_[e.a] >= 0 && index_[e.b] < 0) subtract(e.a, e.q * net.points[e.b]);
    if (index_[e.b] >= 0 && index_[e.a] < 0) subtract(e.b, e.q * net.points[e.a]);
  }
  for (Lanes& side : b)
    for (double& value : side.of) value = -value;
  return b;
}

void FreeSystem::solve_in_place(Sides& b) const { lanes_.solve(b, LaneSolve::Pivots::kDivide); }

void FreeSystem::solve_plainly_in_place(Sides& b) const {
  lanes_.solve(b, LaneSolve::Pivots::kInverse);
}

FreeSystem::Sides FreeSystem::solve(const Sides& b) const {
  Sides x = b;
  solve_plainly_in_place(x);
  for (int turn = 0; turn < 2; ++turn) {
    Sides rest = b;
    for (int j = 0; j < count_; ++j) {
      Lanes& here = rest[order_[j]];
      for (SparseMatrix::InnerIterator it(D_, j); it; ++it)  // row j too: D is symmetric
        for (int c = 0; c < 4; ++c) here.of[c] -= it.value() * x[order_[it.row()]].of[c];
    }
    solve_plainly_in_place(rest);
    for (int i = 0; i < count_; ++i)
      for (int c = 0; c < 4; ++c) x[i].of[c] += rest[i].of[c];
  }
  return x;
}

std::vector<Vec3> FreeSystem::placed(const Net& net, const Sides& x) const {
  std::vector<Vec3> points = net.points;
  for (std::size_t i = 0; i < points.size(); ++i)
    if (index_[i] >= 0) points[i] = Vec3(x[row_[i]].of[0], x[row_[i]].of[1], x[row_[i]].of[2]);
  return points;
}

}  // namespace skewback
