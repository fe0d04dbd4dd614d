#include "solve/solve.hpp"

#include <gtest/gtest.h>

#include <random>

#include "solve/normal_matrix.hpp"

namespace skewback {
namespace {

constexpr double kInf = std::numeric_limits<double>::infinity();

LinearProgram program(const Eigen::MatrixXd& A, const VectorX& b, const VectorX& c) {
  return {A.sparseView(), b, c, VectorX::Zero(A.cols()), VectorX::Constant(A.cols(), kInf)};
}

// Worked by hand: the best corner of {x + y <= 4, x + 3y <= 6} for 3x + 5y is (3, 1), value 14.
TEST(LinearProgram, FindsTheCornerWorkedByHand) {
  Eigen::MatrixXd A(2, 4);
  A << 1, 1, 1, 0, 1, 3, 0, 1;
  const LpSummary s =
      solve(program(A, Eigen::Vector2d(4, 6), Eigen::Vector4d(-3, -5, 0, 0)), {.tolerance = 1e-11});
  ASSERT_EQ(s.status, SolveStatus::kOptimal) << s.reason;
  EXPECT_NEAR(s.objective, -14, 1e-8);
  EXPECT_NEAR(s.x[0], 3, 1e-7);
  EXPECT_NEAR(s.x[1], 1, 1e-7);
  // Shadow prices by hand: -(2, 1), so that c - A'y >= 0.
  EXPECT_NEAR(s.y[0], -2, 1e-7);
  EXPECT_NEAR(s.y[1], -1, 1e-7);
  EXPECT_LE(s.primal_residual, 1e-8);
  EXPECT_LE(s.gap_rel, 1e-8);
}

TEST(LinearProgram, KeepsUpperBounds) {
  Eigen::MatrixXd A(1, 2);
  A << 1, -1;
  LinearProgram lp = program(A, VectorX::Constant(1, 0.0), Eigen::Vector2d(-1, 0));
  lp.upper << 20, 5;
  const LpSummary s = solve(lp);
  ASSERT_EQ(s.status, SolveStatus::kOptimal) << s.reason;
  EXPECT_NEAR(s.objective, -5, 1e-8);
}

TEST(LinearProgram, SaysInfeasible) {
  Eigen::MatrixXd A(1, 2);
  A << 1, 1;
  const LpSummary s = solve(program(A, VectorX::Constant(1, -1.0), Eigen::Vector2d(1, 1)));
  EXPECT_EQ(s.status, SolveStatus::kInfeasible);
  EXPECT_FALSE(s.reason.empty());
}

TEST(LinearProgram, SaysUnbounded) {
  Eigen::MatrixXd A(1, 2);
  A << 1, -1;
  const LpSummary s = solve(program(A, VectorX::Constant(1, 0.0), Eigen::Vector2d(-1, 0)));
  EXPECT_EQ(s.status, SolveStatus::kUnbounded);
  EXPECT_FALSE(s.reason.empty());
}

// A random program built around a complementary pair (x, s), so its optimum is known beforehand.
TEST(LinearProgram, RandomProgramsReachTheOptimumTheyWereBuiltFrom) {
  std::mt19937 rng(7);
  std::uniform_real_distribution<double> u(-1, 1);
  for (int round = 0; round < 20; ++round) {
    const int m = 5 + round, n = 3 * m;
    const Eigen::MatrixXd A = Eigen::MatrixXd::NullaryExpr(m, n, [&] { return u(rng); });
    VectorX x = VectorX::Zero(n), s = VectorX::Zero(n);
    for (int j = 0; j < n; ++j) (j % 3 == 0 ? x[j] : s[j]) = 0.1 + std::abs(u(rng));
    const VectorX y = VectorX::NullaryExpr(m, [&] { return u(rng); });
    const VectorX c = A.transpose() * y + s;
    const LpSummary out = solve(program(A, A * x, c));
    ASSERT_EQ(out.status, SolveStatus::kOptimal) << "round " << round << ": " << out.reason;
    EXPECT_NEAR(out.objective, c.dot(x), 1e-7) << "round " << round;
  }
}

// The same, with every kind of bound and a column long enough to be split: x is at a bound where
// its reduced cost s is not zero, in between where it is.
TEST(LinearProgram, RandomProgramsWithAllKindsOfBounds) {
  std::mt19937 rng(11);
  std::uniform_real_distribution<double> u(-1, 1);
  for (int round = 0; round < 20; ++round) {
    const int m = 60, n = 150;
    Eigen::MatrixXd A = Eigen::MatrixXd::NullaryExpr(m, n, [&] { return u(rng); });
    A = (Eigen::ArrayXXd::NullaryExpr(m, n, [&] { return u(rng); }) > 0.8).select(A, 0.0);
    A.col(0).setOnes();
    VectorX lower(n), upper(n), x(n), s = VectorX::Zero(n);
    for (int j = 0; j < n; ++j) {
      const double at = 2 * u(rng), room = 0.1 + std::abs(u(rng)), cost = 0.1 + std::abs(u(rng));
      x[j] = at;
      switch (j % 5) {
        case 0:
          lower[j] = at - room;
          upper[j] = at + room;
          break;  // between
        case 1:
          lower[j] = at;
          upper[j] = kInf;
          s[j] = cost;
          break;  // at its lower bound
        case 2:
          lower[j] = -kInf;
          upper[j] = at;
          s[j] = -cost;
          break;  // at its upper bound
        case 3:
          lower[j] = at - room;
          upper[j] = at;
          s[j] = -cost;
          break;  // the same, boxed
        default:
          lower[j] = j % 2 == 0 ? at - room : -kInf;
          upper[j] = kInf;  // free or between
      }
    }
    const VectorX y = VectorX::NullaryExpr(m, [&] { return u(rng); });
    const VectorX c = A.transpose() * y + s;
    const LpSummary out = solve({A.sparseView(), A * x, c, lower, upper});
    ASSERT_EQ(out.status, SolveStatus::kOptimal) << "round " << round << ": " << out.reason;
    EXPECT_NEAR(out.objective, c.dot(x), 1e-6) << "round " << round;
    EXPECT_LE(out.bound_violation, 1e-9) << "round " << round;
  }
}

TEST(NormalMatrix, EqualsTheProduct) {
  std::mt19937 rng(5);
  std::uniform_real_distribution<double> u(-1, 1);
  Eigen::MatrixXd D = Eigen::MatrixXd::NullaryExpr(12, 40, [&] { return u(rng); });
  D = (Eigen::ArrayXXd::NullaryExpr(12, 40, [&] { return u(rng); }) > 0.3).select(D, 0.0);
  D.col(7) = 2 * D.col(6);  // a repeated pattern
  const SparseMatrix A = D.sparseView();
  NormalMatrix normal(A);
  for (int round = 0; round < 3; ++round) {
    const VectorX d = VectorX::NullaryExpr(40, [&] { return std::abs(u(rng)); });
    normal.form(d);
    const Eigen::MatrixXd expected =
        D * d.asDiagonal() * D.transpose() + 3.0 * Eigen::MatrixXd::Identity(12, 12);
    const Eigen::MatrixXd lower = Eigen::MatrixXd(normal.shift(3.0));
    const Eigen::MatrixXd difference =
        lower - Eigen::MatrixXd(expected.triangularView<Eigen::Lower>());
    EXPECT_LE(difference.cwiseAbs().maxCoeff(), 1e-14);
  }
}

TEST(SparseCholesky, SolvesAndReusesThePattern) {
  Eigen::MatrixXd D(3, 3);
  D << 4, 1, 0, 1, 3, 1, 0, 1, 2;
  SparseCholesky factor;
  for (const double scale : {1.0, 10.0}) {
    const Eigen::MatrixXd S = scale * D;
    ASSERT_TRUE(factor.factorise(S.sparseView()));
    const VectorX b = Eigen::Vector3d(1, 2, 3);
    EXPECT_LE((S * factor.solve(b) - b).norm(), 1e-14);
  }
}

TEST(SparseCholesky, RefusesAnIndefiniteMatrix) {
  Eigen::MatrixXd D(2, 2);
  D << 1, 2, 2, 1;
  SparseCholesky factor;
  EXPECT_FALSE(factor.factorise(D.sparseView()));
}

}  // namespace
}  // namespace skewback
