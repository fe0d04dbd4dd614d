#include "form/free_system.hpp"

namespace skewback {

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
  factor_.compute(D_);
}

bool FreeSystem::ok() const {
  return count_ == 0 || (factor_.info() == Eigen::Success && factor_.vectorD().minCoeff() > 0);
}

Eigen::MatrixXd FreeSystem::right_side(const Net& net, const std::vector<Vec3>& load) const {
  Eigen::MatrixXd b = Eigen::MatrixXd::Zero(count_, 3);
  for (std::size_t i = 0; i < index_.size(); ++i)
    if (index_[i] >= 0) b.row(index_[i]) += load[i].transpose();
  for (const NetEdge& e : net.edges) {
    const int ia = index_[e.a], ib = index_[e.b];
    if (ia >= 0 && ib < 0) b.row(ia) -= e.q * net.points[e.b].transpose();
    if (ib >= 0 && ia < 0) b.row(ib) -= e.q * net.points[e.a].transpose();
  }
  return -b;
}

template <class Scale>
void FreeSystem::sweep(Rows3& b, Scale&& scaled) const {
  const auto& L = factor_.matrixL().nestedExpression();  // its diagonal of ones may be left out
  Rows3 x = factor_.permutationP() * b;
  const int *start = L.outerIndexPtr(), *row = L.innerIndexPtr(), *count = L.innerNonZeroPtr();
  const double* value = L.valuePtr();
  const auto end = [&](int j) { return count != nullptr ? start[j] + count[j] : start[j + 1]; };
  double* const y = x.data();
  for (int j = 0; j < count_; ++j)
    for (int p = start[j]; p < end(j); ++p) {
      if (row[p] == j) continue;
      for (int c = 0; c < 3; ++c) y[3 * row[p] + c] -= value[p] * y[3 * j + c];
    }
  for (int j = count_ - 1; j >= 0; --j) {
    double sum[3];
    for (int c = 0; c < 3; ++c) sum[c] = scaled(y[3 * j + c], j);
    for (int p = start[j]; p < end(j); ++p) {
      if (row[p] == j) continue;
      for (int c = 0; c < 3; ++c) sum[c] -= value[p] * y[3 * row[p] + c];
    }
    for (int c = 0; c < 3; ++c) y[3 * j + c] = sum[c];
  }
  b = factor_.permutationPinv() * x;
}

void FreeSystem::solve_in_place(Rows3& b) const {
  const auto& D = factor_.vectorD();
  sweep(b, [&](double y, int j) { return y / D[j]; });
}

void FreeSystem::solve_plainly_in_place(Rows3& b) const {
  const VectorX by = factor_.vectorD().cwiseInverse();
  sweep(b, [&](double y, int j) { return by[j] * y; });
}

Eigen::MatrixXd FreeSystem::solve(const Eigen::MatrixXd& b) const {
  Eigen::MatrixXd x = factor_.solve(b);
  for (int i = 0; i < 2; ++i) x += factor_.solve(b - D_ * x);
  return x;
}

std::vector<Vec3> FreeSystem::placed(const Net& net, const Eigen::MatrixXd& x) const {
  std::vector<Vec3> points = net.points;
  for (std::size_t i = 0; i < points.size(); ++i)
    if (index_[i] >= 0) points[i] = x.row(index_[i]).transpose();
  return points;
}

}  // namespace skewback
