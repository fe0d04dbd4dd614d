// Cone programs on shells in running bond: bench_cone [RUNS]. Medians of RUNS (5) in one run, one
// thread unless said; "vault" is a barrel (span 10 m, rise 2.5 m), "sail" a spherical shell on two
// edges, where friction governs. Compared in the same run: CHOLMOD (simplicial and supernodal) with
// the block Cholesky factorisation, Clp's barrier without crossover with the cone solver, on inner
// cones of eight rays (a linear program, and a lower factor where friction governs).

#include <Eigen/CholmodSupport>
#include <algorithm>
#include <coin/ClpInterior.hpp>
#include <coin/ClpSimplex.hpp>
#include <coin/ClpSolve.hpp>
#include <cstdio>
#include <cstdlib>
#include <functional>
#include <random>
#include <thread>

#include "base/timing.hpp"
#include "solve/block_cholesky.hpp"
#include "solve/cone_program.hpp"
#include "solve/kernels.hpp"
#include "solve/sample_cones.hpp"

namespace {

using namespace skewback;

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values[values.size() / 2];
}

double timed(int runs, const std::function<void()>& what) {
  std::vector<double> seconds;
  for (int i = 0; i < runs; ++i) {
    const Stopwatch watch;
    what();
    seconds.push_back(watch.seconds());
  }
  return median(seconds);
}

void cholesky(const sample::Shell& shell, int runs) {
  const ConeProgram program = sample::limit_program(shell, 0.3, 0.4);
  std::vector<std::array<int, 2>> pairs;
  std::vector<Eigen::Triplet<double>> entries;
  const auto add = [&](int i, int j, const Block6& block) {
    for (int r = 0; r < 6; ++r) {
      for (int c = 0; c < 6; ++c) entries.emplace_back(6 * i + r, 6 * j + c, block(r, c));
    }
  };
  for (const ConeContact& c : program.contacts) {
    if (c.a >= 0) add(c.a, c.a, c.on_a * c.on_a.transpose());
    if (c.b >= 0) add(c.b, c.b, c.on_b * c.on_b.transpose());
    if (c.a < 0 || c.b < 0) continue;
    pairs.push_back({c.a, c.b});
    add(c.a, c.b, c.on_a * c.on_b.transpose());
    add(c.b, c.a, c.on_b * c.on_a.transpose());
  }
  SparseMatrix S(6 * program.nodes, 6 * program.nodes);
  S.setFromTriplets(entries.begin(), entries.end());

  const Stopwatch watch;
  BlockCholesky own(analyse(program.nodes, pairs));
  const double symbolic = watch.seconds();
  for (const ConeContact& c : program.contacts) {
    if (c.a >= 0) own.add_diagonal(c.a, c.on_a * c.on_a.transpose());
    if (c.b >= 0) own.add_diagonal(c.b, c.on_b * c.on_b.transpose());
    if (c.a >= 0 && c.b >= 0) own.add_pair(c.a, c.b, c.on_a * c.on_b.transpose());
  }
  const int many = 20 * runs;
  bool good = true;
  const double ours = timed(many, [&] { good = own.factorise() && good; });
  VectorX x = VectorX::Ones(6 * program.nodes);
  const double solve = timed(many, [&] { own.solve(x); });
  const auto theirs = [&](Eigen::CholmodMode mode) {
    Eigen::CholmodDecomposition<SparseMatrix, Eigen::Lower> factor;
    factor.setMode(mode);
    factor.analyzePattern(S);
    return timed(many, [&] { factor.factorize(S); });
  };
  const double simplicial = theirs(Eigen::CholmodSimplicialLLt);
  const double supernodal = theirs(Eigen::CholmodSupernodalLLt);
  std::printf(
      "%5d blocks: factor %.1f us (%.1f GF/s), solve %.1f us, analysis %.2f ms; CHOLMOD "
      "simplicial %.0f us (%.1f x), supernodal %.0f us (%.1f x)%s\n",
      program.nodes, 1e6 * ours, own.flops() / ours / 1e9, 1e6 * solve, 1e3 * symbolic,
      1e6 * simplicial, simplicial / ours, 1e6 * supernodal, supernodal / ours,
      good ? "" : "   NOT POSITIVE");
}

/// Seconds of Clp's barrier on inner cones of eight rays, and its optimum.
double barrier(const ConeProgram& program, double& objective) {
  const LinearProgram lp = sample::faceted(program, 8, true);
  SparseMatrix A = lp.A;
  A.makeCompressed();
  const std::vector<CoinBigIndex> start(A.outerIndexPtr(), A.outerIndexPtr() + A.cols() + 1);
  const auto finite = [](double v) { return std::clamp(v, -COIN_DBL_MAX, COIN_DBL_MAX); };
  const VectorX lower = lp.lower.unaryExpr(finite), upper = lp.upper.unaryExpr(finite);
  ClpSimplex model;
  model.setLogLevel(0);
  model.loadProblem(static_cast<int>(A.cols()), static_cast<int>(A.rows()), start.data(),
                    A.innerIndexPtr(), A.valuePtr(), lower.data(), upper.data(), lp.c.data(),
                    lp.b.data(), lp.b.data());
  ClpSolve how;
  how.setSolveType(ClpSolve::useBarrierNoCross);
  how.setSpecialOption(4, 3);  // its own sparse factorisation
  const Stopwatch watch;
  model.initialSolve(how);
  objective = model.objectiveValue();
  return watch.seconds();
}

void limit(const char* name, const sample::Shell& shell, double along, int runs, bool other) {
  ConeProgram program = sample::limit_program(shell, along, 0.4);
  program.columns[0].upper = 100;  // some patches lock
  const ConeSolver solver(program);
  ConeSummary s;
  const double seconds = timed(runs, [&] { s = solver.solve(program); });
  std::printf(
      "%s %5d blocks, %6zu contacts: %9.2f ms, %2d steps, factor %.8f, residual %.0e, dual "
      "%.0e, gap %.0e%s",
      name, program.nodes, program.contacts.size(), 1e3 * seconds, s.iterations, -s.objective,
      s.primal_residual, s.dual_violation, s.gap_rel,
      s.status == SolveStatus::kOptimal ? "" : "   NOT OPTIMAL");
  if (other) {
    double objective = 0;
    const double theirs = barrier(program, objective);
    std::printf("; Clp %.0f ms (%.0f x, one run), 8 rays %.8f", 1e3 * theirs, theirs / seconds,
                -objective);
  }
  std::printf("\n");
}

void patterns(const sample::Shell& shell, int count, int threads) {
  const ConeProgram first = sample::limit_program(shell, 0.5, 0.5);
  const ConeSolver solver(first);
  std::mt19937 random(7);
  std::uniform_real_distribution<double> share(0, 1);
  std::vector<ConeProgram> programs;
  for (int i = 0; i < count; ++i) {
    programs.push_back(first);
    programs.back().columns[0].upper = 10;
    const double along = share(random), across = share(random);
    sample::move_patch(shell, along, across, programs.back());
  }
  std::vector<ConeSummary> answers(programs.size());
  const Stopwatch watch;
  {
    std::vector<std::jthread> pool;
    for (int t = 0; t < threads; ++t) {
      pool.emplace_back([&, t] {
        for (std::size_t i = std::size_t(t); i < programs.size(); i += std::size_t(threads)) {
          answers[i] = solver.solve(programs[i]);
        }
      });
    }
  }
  const double seconds = watch.seconds();
  int failed = 0, most = 0;
  double worst = 0;
  for (const ConeSummary& s : answers) {
    failed += s.status != SolveStatus::kOptimal;
    most = std::max(most, s.iterations);
    worst = std::max({worst, s.primal_residual, s.dual_violation, s.gap_rel});
  }
  std::printf(
      "%s, %d patterns of %d blocks on %d threads: %.2f s, %d not optimal, at most %d "
      "steps, worst measure %.0e\n",
      shell.sail ? "sail" : "vault", count, first.nodes, threads, seconds, failed, most, worst);
}

}  // namespace

int main(int argc, char** argv) {
  const int runs = argc > 1 ? std::max(1, std::atoi(argv[1])) : 5;
  const sample::Shell w60{.courses = 11, .units = 5}, w220{.courses = 21, .units = 10},
      w1000{.courses = 45, .units = 22};
  const sample::Shell s52{.courses = 7, .units = 7, .sail = true},
      s203{.courses = 14, .units = 14, .sail = true},
      s976{.courses = 31, .units = 31, .sail = true};
  std::printf("vectors: %s\n", best_kernels().name);
  for (const sample::Shell& shell : {w60, w220, w1000}) cholesky(shell, runs);
  limit("vault", w60, 0.3, 4 * runs, true);
  limit("vault", w220, 0.3, runs, true);
  limit("vault", w1000, 0.3, runs, true);
  limit("sail", s52, 0.1, 4 * runs, true);
  limit("sail", s203, 0.1, runs, true);
  limit("sail", s976, 0.3, runs, false);
  for (const sample::Shell& shell : {w60, s52}) {
    for (const int threads : {1, 2}) patterns(shell, 1000, threads);
  }
  return 0;
}
