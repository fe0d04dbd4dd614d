#include "form/free_system.hpp"

namespace skewback {

namespace {
using Pair = double __attribute__((vector_size(16)));  // x, y; then z and nothing
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

void FreeSystem::sweep(Rows3& b, bool divide) const {
  const auto& L = factor_.matrixL().nestedExpression();  // its diagonal of ones may be left out
  const auto& place = factor_.permutationP().indices();
  const auto& D = factor_.vectorD();
  const int *start = L.outerIndexPtr(), *row = L.innerIndexPtr(), *count = L.innerNonZeroPtr();
  const double* value = L.valuePtr();
  const auto end = [&](int j) { return count != nullptr ? start[j] + count[j] : start[j + 1]; };
  std::vector<Pair> y(2 * static_cast<std::size_t>(count_));
  const auto at = [&](int i) { return y.data() + 2 * static_cast<std::ptrdiff_t>(i); };
  for (int i = 0; i < count_; ++i) {
    at(place[i])[0] = Pair{b(i, 0), b(i, 1)};
    at(place[i])[1] = Pair{b(i, 2), 0};
  }
  for (int j = 0; j < count_; ++j) {
    const Pair xy = at(j)[0], z = at(j)[1];
    for (int p = start[j]; p < end(j); ++p) {
      if (row[p] == j) continue;
      at(row[p])[0] -= value[p] * xy;
      at(row[p])[1] -= value[p] * z;
    }
  }
  for (int j = count_ - 1; j >= 0; --j) {
    const double by = 1 / D[j];
    Pair xy = divide ? at(j)[0] / D[j] : by * at(j)[0];
    Pair z = divide ? at(j)[1] / D[j] : by * at(j)[1];
    for (int p = start[j]; p < end(j); ++p) {
      if (row[p] == j) continue;
      xy -= value[p] * at(row[p])[0];
      z -= value[p] * at(row[p])[1];
    }
    at(j)[0] = xy;
    at(j)[1] = z;
  }
  for (int i = 0; i < count_; ++i) {
    b(i, 0) = at(place[i])[0][0];
    b(i, 1) = at(place[i])[0][1];
    b(i, 2) = at(place[i])[1][0];
  }
}

void FreeSystem::solve_in_place(Rows3& b) const { sweep(b, true); }

void FreeSystem::solve_plainly_in_place(Rows3& b) const { sweep(b, false); }

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
