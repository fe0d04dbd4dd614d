#pragma once
// The linear system of a net over its free points, factorised.

#include <Eigen/SparseCholesky>
#include <vector>

#include "form/force_density.hpp"
#include "solve/solve.hpp"

namespace skewback {

class FreeSystem {
 public:
  explicit FreeSystem(const Net& net);

  /// False: some free point is not held, or some q is negative enough to make the net unstable.
  [[nodiscard]] bool ok() const;
  [[nodiscard]] int size() const { return count_; }
  [[nodiscard]] int index(int point) const { return index_[point]; }  // -1 if fixed

  /// Loads plus what the fixed points push; size() x 3.
  [[nodiscard]] Eigen::MatrixXd right_side(const Net& net, const std::vector<Vec3>& load) const;
  [[nodiscard]] Eigen::MatrixXd solve(const Eigen::MatrixXd& b) const;  // as accurate as can be
  using Rows3 = Eigen::Matrix<double, Eigen::Dynamic, 3, Eigen::RowMajor>;
  void solve_in_place(Rows3& b) const;  // no refinement; three at a time, which is what is fast
  /// As the factor itself does, to the last bit, three at a time: a search that stops early follows
  /// every bit.
  void solve_plainly_in_place(Rows3& b) const;
  /// All points, the free ones from rows of x.
  [[nodiscard]] std::vector<Vec3> placed(const Net& net, const Eigen::MatrixXd& x) const;

 private:
  void sweep(Rows3& b, bool divide) const;  // else times the inverse of each pivot

  std::vector<int> index_;
  int count_ = 0;
  SparseMatrix D_;
  Eigen::SimplicialLDLT<SparseMatrix> factor_;
};

}  // namespace skewback
