// Random programs: optima known beforehand, proofs, units, threads and vector widths.

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <random>
#include <thread>

#include "solve/block_cholesky.hpp"
#include "solve/cone_iteration.hpp"
#include "solve/cone_program.hpp"
#include "solve/sample_blocks.hpp"
#include "solve/sample_cones.hpp"

namespace skewback {
namespace {

using namespace sample;

// The optimum of each is known beforehand: f, z and y were drawn complementary, then b and c.
TEST(ConeProgram, RandomProgramsReachTheOptimumTheyWereBuiltFrom) {
  std::mt19937 rng(17);
  double worst = 0;
  int iterations = 0;
  for (int round = 0; round < 200; ++round) {
    const double size = std::uniform_real_distribution<double>(0, std::log(60.0))(rng);
    const sample::KnownOptimum known =
        sample::known_optimum(static_cast<int>(std::exp(size)), round % 2 == 0, rng);
    const ConeSummary s = solved(known.program);
    ASSERT_EQ(s.status, SolveStatus::kOptimal)
        << "round " << round << ", " << known.program.nodes << " nodes: " << s.reason;
    const double off = std::abs(s.objective - known.objective) / (1 + std::abs(known.objective));
    EXPECT_LE(off, 1e-6) << "round " << round << ", " << known.program.nodes << " nodes";
    EXPECT_LE(std::max({s.primal_residual, s.dual_violation, s.gap_rel}), 1e-6);
    EXPECT_LE(s.cone_violation, 1e-7);  // bounds hold to the tolerance, as equations do
    worst = std::max(worst, off);
    iterations = std::max(iterations, s.iterations);
  }
  std::printf("worst disagreement %.1e, most iterations %d\n", worst, iterations);
}

// Loads thrown at random programs: most have no equilibrium. Every claim is checked from the data;
// giving up is allowed to be rare (63 in 12,000 were counted).
TEST(ConeProgram, RandomLoadsEndInAnAnswerOrAProof) {
  std::mt19937 rng(1);
  std::uniform_real_distribution<double> u(-1, 1);
  int failed = 0, infeasible = 0, unbounded = 0;
  for (int round = 0; round < 300; ++round) {
    ConeProgram p = sample::known_optimum(1 + round % 20, round % 2 == 0, rng).program;
    const double size = std::exp(4 * u(rng));
    for (double& v : p.b) v += size * u(rng);
    if (round % 3 == 0) {
      for (ConeContact& c : p.contacts) c.n_most = kInf;
    }
    const ConeSummary s = solved(p);
    double worst = 0;
    if (s.status == SolveStatus::kInfeasible) {
      ++infeasible;
      EXPECT_NEAR(power_of(p, s.y, worst), 1, 1e-9) << "round " << round;
      EXPECT_LE(worst, 1e-6) << "round " << round;
    } else if (s.status == SolveStatus::kUnbounded) {
      ++unbounded;
      EXPECT_LE(s.objective, -1 + 1e-9) << "round " << round;
      EXPECT_LE(std::max(s.primal_residual, s.cone_violation), 1e-6) << "round " << round;
    } else if (s.status == SolveStatus::kOptimal) {
      EXPECT_LE(std::max(s.primal_residual, s.gap_rel), 1e-6) << "round " << round;
    } else {
      ++failed;
    }
  }
  EXPECT_LE(failed, 6);
  EXPECT_GE(infeasible, 50);
  EXPECT_GE(unbounded, 10);
  std::printf("%d infeasible, %d unbounded, %d given up\n", infeasible, unbounded, failed);
}

TEST(ConeProgram, InnerAndOuterRaysBracketIt) {
  const sample::Shell shell{.courses = 5, .units = 4, .sail = true, .friction = 0.3};
  const ConeProgram p = sample::limit_program(shell, 0.3, 0.35);
  const ConeSummary s = solved(p);
  ASSERT_EQ(s.status, SolveStatus::kOptimal) << s.reason;
  double before = 0;
  for (const int rays : {8, 16, 32}) {
    const LpSummary inner = solve(sample::faceted(p, rays, true));
    const LpSummary outer = solve(sample::faceted(p, rays, false));
    ASSERT_EQ(inner.status, SolveStatus::kOptimal);
    ASSERT_EQ(outer.status, SolveStatus::kOptimal);
    EXPECT_LE(-inner.objective, -s.objective * (1 + 1e-6)) << rays << " rays";
    EXPECT_GE(-outer.objective, -s.objective * (1 - 1e-6)) << rays << " rays";
    EXPECT_GT(-inner.objective, before);
    before = -inner.objective;
  }
  EXPECT_GE(before, -s.objective * 0.98);
}

ConeProgram in_other_units(ConeProgram p, double length, double weight) {
  for (ConeContact& c : p.contacts) {
    c.on_a.bottomRows<3>() *= length;
    c.on_b.bottomRows<3>() *= length;
  }
  const auto rows = [&](VectorX& v) {
    for (Eigen::Index i = 0; i < v.size(); ++i) v[i] *= weight * (i % 6 < 3 ? 1 : length);
  };
  rows(p.b);
  for (ConeColumn& c : p.columns) rows(c.rows);
  return p;
}

TEST(ConeProgram, UnitsChangeNothing) {
  const sample::Shell shell{.courses = 9, .units = 4};
  const ConeProgram p = sample::limit_program(shell, 0.3, 0.35);
  const ConeSummary s = solved(p);
  ASSERT_EQ(s.status, SolveStatus::kOptimal) << s.reason;
  for (const double length : {1e-3, 1.0, 1e3}) {
    for (const double weight : {1e-3, 1e3}) {
      const ConeSummary t = solved(in_other_units(p, length, weight));
      ASSERT_EQ(t.status, SolveStatus::kOptimal) << t.reason;
      EXPECT_EQ(t.iterations, s.iterations) << length << ", " << weight;
      EXPECT_NEAR(t.objective, s.objective, 1e-7 * std::abs(s.objective));
    }
  }
}

TEST(ConeProgram, ThreadsShareOneSolverAndAgreeBitByBit) {
  const sample::Shell shell{.courses = 7, .units = 4};
  const ConeProgram p = sample::limit_program(shell, 0.4, 0.5);
  const ConeSolver solver(p);
  const ConeSummary first = solver.solve(p);
  std::vector<ConeSummary> others(4);
  {
    std::vector<std::jthread> threads;
    for (ConeSummary& other : others) {
      threads.emplace_back([&] {
        for (int i = 0; i < 5; ++i) other = solver.solve(p);
      });
    }
  }
  for (const ConeSummary& other : others) {
    EXPECT_TRUE(other.f == first.f && other.y == first.y && other.columns == first.columns);
  }
}

TEST(ConeProgram, SameBitsForEveryVectorWidth) {
  std::mt19937 rng(23);
  std::vector<ConeProgram> programs{sample::limit_program({.courses = 7, .units = 4}, 0.4, 0.5)};
  for (int i = 0; i < 5; ++i) {
    programs.push_back(sample::known_optimum(9, i % 2 == 0, rng).program);
  }
  for (const ConeProgram& p : programs) {
    std::vector<std::array<int, 2>> pairs;
    for (const ConeContact& c : p.contacts) {
      if (c.a >= 0 && c.b >= 0) pairs.push_back({c.a, c.b});
    }
    const auto pattern = analyse(p.nodes, pairs);
    const ConeData data = scaled(p, *pattern);
    std::vector<ConeAnswer> answers;
    for (const char* name : {"plain", "avx2", "avx512"}) {
      const Kernels* kernels = kernels_named(name);
      if (!kernels) continue;
      answers.push_back(iterate(data, pattern, {}, *kernels));
      EXPECT_EQ(answers.back().status, SolveStatus::kOptimal) << name;
      EXPECT_EQ(answers.back().iterations, answers[0].iterations) << name;
      const auto same = [&](const AlignedArray& a, const AlignedArray& b) {
        return std::memcmp(a.data(), b.data(), a.size() * sizeof(double)) == 0;
      };
      EXPECT_TRUE(same(answers.back().x, answers[0].x)) << name;
      EXPECT_TRUE(same(answers.back().y, answers[0].y)) << name;
    }
    if (answers.size() < 2) GTEST_SKIP() << "this machine has one width only";
  }
}

// Where a crushing limit and friction act at once in a shell that locks, bounds and cones still
// hold; the limit can only lower the factor, and more so the tighter it is.
TEST(ConeProgram, CrushingLimitsOnALockingShell) {
  const sample::Shell shell{.courses = 7, .units = 7, .sail = true};
  ConeProgram p = sample::limit_program(shell, 0.1, 0.4);
  double before = 0;
  for (const double most : {3.0, 30.0, 1000.0}) {
    for (ConeContact& c : p.contacts) c.n_most = most;
    const ConeSummary s = solved(p);
    ASSERT_EQ(s.status, SolveStatus::kOptimal) << most << ": " << s.reason;
    EXPECT_LE(s.cone_violation, 1e-8);
    EXPECT_LE(s.primal_residual, 1e-7);
    EXPECT_GT(s.columns[0], before);
    before = s.columns[0];
  }
}

TEST(ConeProgram, RefusesWhatItCannotRead) {
  ConeProgram p = pushed_block(1, 1, 0.6, 0);
  p.nodes = 2;
  EXPECT_EQ(ConeSolver(1, {}).solve(p).status, SolveStatus::kFailed);
  p = pushed_block(1, 1, 0.6, 0);
  p.contacts[2].on_b(1, 1) = std::nan("");
  EXPECT_NE(solved(p).reason.find("contact 2"), std::string::npos);
  p = pushed_block(1, 1, 0.6, 0);
  p.columns[0].lower = kInf;
  EXPECT_NE(solved(p).reason.find("column 0"), std::string::npos);
}

}  // namespace
}  // namespace skewback
