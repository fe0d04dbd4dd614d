#pragma once
// The linear system of a net over its free points, factorised.

#include <Eigen/SparseCholesky>
#include <array>
#include <vector>

#include "form/force_density.hpp"
#include "solve/lane_solve.hpp"
#include "solve/solve.hpp"

namespace skewback {

/// Rows are free points in the order of elimination.
class FreeSystem {
 public:
  explicit FreeSystem(const Net& net);
  FreeSystem(const FreeSystem&) = delete;
  FreeSystem& operator=(const FreeSystem&) = delete;

  /// Other forces in the same edges, the same points fixed: the order of elimination is kept, the
  /// factor is that of a new system, to the last bit.
  void refactor(const Net& net);

  /// False: some free point is not held, or some q is negative enough to make the net unstable.
  [[nodiscard]] bool ok() const;
  [[nodiscard]] int size() const { return count_; }
  [[nodiscard]] int row(int point) const { return row_[point]; }  // size() if fixed

  using Sides = std::vector<Lanes>;  // size() + 1 rows: the last stands for all fixed points
  [[nodiscard]] Sides no_sides() const { return Sides(std::size_t(count_) + 1); }
  /// Loads plus what the fixed points push, in lanes 0 to 2.
  [[nodiscard]] Sides right_side(const Net& net, const std::vector<Vec3>& load) const;
  [[nodiscard]] Sides solve(const Sides& b) const;  // as accurate as can be
  void solve_in_place(Sides& b) const;              // no refinement
  /// As Eigen's solve with the same factor, to the last bit: a search that stops early follows
  /// every bit.
  void solve_plainly_in_place(Sides& b) const;
  /// All points, the free ones from lanes 0 to 2 of x.
  [[nodiscard]] std::vector<Vec3> placed(const Net& net, const Sides& x) const;

 private:
  void factorise();

  int count_ = 0;
  bool planned_ = false;
  std::vector<int> index_, row_;           // per point: place in D or -1, row
  std::vector<int> order_;                 // per place in D: row
  std::vector<std::array<int, 4>> where_;  // per edge: aa, bb, ab, ba in the values of D, or -1
  SparseMatrix D_;
  Eigen::SimplicialLDLT<SparseMatrix> factor_;
  LaneSolve lanes_;
};

}  // namespace skewback
