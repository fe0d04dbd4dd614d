#include "solve/lane_solve.hpp"

#include <gtest/gtest.h>

#include <Eigen/SparseCholesky>
#include <cstring>
#include <random>

#include "solve/kernels.hpp"

namespace skewback {
namespace {

double number(std::mt19937& random) { return double(random()) / 4294967296.0 - 0.5; }

// A matrix of some graph with a few far ties, or of nothing but points by themselves.
SparseMatrix sample(int n, bool tied, std::mt19937& random) {
  std::vector<Eigen::Triplet<double>> entries;
  for (int i = 0; i < n; ++i) entries.emplace_back(i, i, 1 + number(random));
  const auto tie = [&](int a, int b) {
    const double q = 1 + number(random);
    entries.emplace_back(a, a, q);
    entries.emplace_back(b, b, q);
    entries.emplace_back(a, b, -q);
    entries.emplace_back(b, a, -q);
  };
  for (int i = 0; tied && i + 1 < n; ++i) {
    tie(i, i + 1);
    if (i + 9 < n) tie(i, i + 9);
    if (i % 17 == 0 && i > 0) tie(i, int(random() % unsigned(i)));
  }
  SparseMatrix S(n, n);
  S.setFromTriplets(entries.begin(), entries.end());
  return S;
}

// Column by column with plain loops is what every width has to agree with.
void solve_plainly(const SparseMatrix& L, const VectorX& D, bool divides, VectorX& y) {
  const int n = int(L.cols());
  for (int j = 0; j < n; ++j)
    for (SparseMatrix::InnerIterator it(L, j); it; ++it) y[it.row()] -= it.value() * y[j];
  for (int j = n - 1; j >= 0; --j) {
    y[j] = divides ? y[j] / D[j] : (1 / D[j]) * y[j];
    for (SparseMatrix::InnerIterator it(L, j); it; ++it) y[j] -= it.value() * y[it.row()];
  }
}

TEST(LaneSolve, SameBitsAsColumnByColumnWhateverTheWidth) {
  std::mt19937 random(11);
  for (const int n : {0, 1, 2, 40, 500})
    for (const bool tied : {false, true})
      for (const bool divides : {false, true}) {
        const Eigen::SimplicialLDLT<SparseMatrix> factor(sample(n, tied, random));
        const SparseMatrix& L = factor.matrixL().nestedExpression();
        const VectorX D = factor.vectorD();
        LaneSolve lanes;
        lanes.plan(L);
        lanes.take(L, D);
        std::vector<Lanes> right(std::size_t(n) + 1);
        for (Lanes& row : right)
          for (double& value : row.of) value = number(random);
        for (const char* name : {"plain", "avx2", "avx512"}) {
          const Kernels* kernels = kernels_named(name);
          if (!kernels) continue;
          const auto pivots = divides ? LaneSolve::Pivots::kDivide : LaneSolve::Pivots::kInverse;
          std::vector<Lanes> got = right;
          lanes.solve_with(*kernels, got, pivots);
          for (int lane = 0; lane < 4; ++lane) {
            VectorX y(n);
            for (int i = 0; i < n; ++i) y[i] = right[std::size_t(i)].of[std::size_t(lane)];
            VectorX alone = y;
            lanes.solve_with(*kernels, alone, pivots);
            solve_plainly(L, D, divides, y);
            ASSERT_EQ(alone, y) << name << ", " << n << " rows, by itself";
            for (int i = 0; i < n; ++i)
              ASSERT_EQ(got[std::size_t(i)].of[std::size_t(lane)], y[i])
                  << name << ", " << n << " rows, row " << i << ", lane " << lane;
            EXPECT_EQ(got.back().of[std::size_t(lane)], right.back().of[std::size_t(lane)]);
          }
        }
      }
}

TEST(LaneSolve, SolvesTheSystem) {
  std::mt19937 random(5);
  const SparseMatrix S = sample(300, true, random);
  const Eigen::SimplicialLDLT<SparseMatrix, Eigen::Lower, Eigen::NaturalOrdering<int>> factor(S);
  LaneSolve lanes;
  lanes.plan(factor.matrixL().nestedExpression());
  lanes.take(factor.matrixL().nestedExpression(), factor.vectorD());
  const Eigen::MatrixXd x = Eigen::MatrixXd::NullaryExpr(300, 4, [&] { return number(random); });
  const Eigen::MatrixXd b = S * x;
  std::vector<Lanes> y(300);
  for (int i = 0; i < 300; ++i)
    for (int c = 0; c < 4; ++c) y[std::size_t(i)].of[std::size_t(c)] = b(i, c);
  lanes.solve(y, LaneSolve::Pivots::kDivide);
  for (int i = 0; i < 300; ++i)
    for (int c = 0; c < 4; ++c)
      ASSERT_NEAR(y[std::size_t(i)].of[std::size_t(c)], x(i, c), 1e-12) << i << ", " << c;
}

}  // namespace
}  // namespace skewback
