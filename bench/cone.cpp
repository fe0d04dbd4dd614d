// Cone programs on shells in running bond: bench_cone [RUNS]. bench_cone --write DIR is for
// cone_others.py, which runs this, bench_stand, and HiGHS and cvxopt on the programs written.
// Medians of RUNS (5) in one run, one thread unless said; "vault" is a barrel (span 10 m, rise 2.5
// m), "sail" a spherical shell on two edges, where friction governs. Compared in the same run:
// CHOLMOD (simplicial and supernodal) with the block Cholesky factorisation, Clp's barrier without
// crossover with the cone solver, on inner cones of eight rays (a linear program, and a lower
// factor where friction governs).

#include <Eigen/CholmodSupport>
#include <algorithm>
#include <coin/ClpInterior.hpp>
#include <coin/ClpSimplex.hpp>
#include <coin/ClpSolve.hpp>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <functional>
#include <random>
#include <thread>

#include "base/timing.hpp"
#include "solve/block_cholesky.hpp"
#include "solve/cone_data.hpp"
#include "solve/cone_iteration.hpp"
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

/// Processor milliseconds of the limit program with each width of vectors this machine has.
void widths(const sample::Shell& shell, int runs) {
  const ConeProgram program = sample::limit_program(shell, 0.3, 0.4);
  std::vector<std::array<int, 2>> pairs;
  for (const ConeContact& c : program.contacts) {
    if (c.a >= 0 && c.b >= 0) pairs.push_back({c.a, c.b});
  }
  const auto pattern = analyse(program.nodes, pairs);
  const ConeData data = scaled(program, *pattern);
  std::printf("%5d blocks, limit program by width:", program.nodes);
  for (const char* name : {"avx512", "avx2", "plain"}) {
    const Kernels* kernels = kernels_named(name);
    if (kernels == nullptr) continue;
    std::vector<double> costs;
    for (int i = 0; i < runs; ++i) {
      const std::clock_t before = std::clock();
      const ConeAnswer answer = iterate(data, pattern, {}, *kernels);
      costs.push_back(1e3 * double(std::clock() - before) / CLOCKS_PER_SEC);
    }
    std::printf(" %s %.2f ms", name, median(costs));
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

void write(const std::filesystem::path& path, const VectorX& values) {
  std::ofstream out(path);
  out.precision(17);
  for (const double v : values) out << v << "\n";
}

void write(const std::filesystem::path& path, const SparseMatrix& A) {
  std::ofstream out(path);
  out.precision(17);
  out << "%%MatrixMarket matrix coordinate real general\n"
      << A.rows() << " " << A.cols() << " " << A.nonZeros() << "\n";
  for (Eigen::Index j = 0; j < A.outerSize(); ++j) {
    for (SparseMatrix::InnerIterator it(A, j); it; ++it) {
      out << it.row() + 1 << " " << it.col() + 1 << " " << it.value() << "\n";
    }
  }
}

/// minimise c'x, A x = b, x in R+ for the first columns (the load factor and the slack of its
/// bound), then in cones (friction n, t).
void write_cone(const std::filesystem::path& to, const ConeProgram& program) {
  const Eigen::Index rows = program.b.size();
  std::vector<Eigen::Triplet<double>> entries;
  for (Eigen::Index i = 0; i < rows; ++i) {
    if (program.columns[0].rows[i] != 0) entries.emplace_back(i, 0, program.columns[0].rows[i]);
  }
  entries.emplace_back(rows, 0, 1);
  entries.emplace_back(rows, 1, 1);
  int column = 2;
  for (const ConeContact& c : program.contacts) {
    for (int k = 0; k < 3; ++k, ++column) {
      const double unit = k == 0 ? 1 / c.friction : 1;
      for (int r = 0; r < 6; ++r) {
        if (c.a >= 0) entries.emplace_back(6 * c.a + r, column, unit * c.on_a(r, k));
        if (c.b >= 0) entries.emplace_back(6 * c.b + r, column, unit * c.on_b(r, k));
      }
    }
  }
  SparseMatrix A(rows + 1, column);
  A.setFromTriplets(entries.begin(), entries.end());
  VectorX b(rows + 1), c = VectorX::Zero(column);
  b << program.b, program.columns[0].upper;
  c[0] = program.columns[0].cost;
  write(to / "cone_A.mtx", A);
  write(to / "cone_b.txt", b);
  write(to / "cone_c.txt", c);
  std::ofstream(to / "cone_linear.txt") << 2 << "\n";
}

/// Ours and, if asked, Clp's, to compare with in the same run.
void write_own(const std::filesystem::path& to, const ConeProgram& program, bool other) {
  const ConeSolver solver(program);
  ConeSummary s;
  const double seconds = timed(5, [&] { s = solver.solve(program); });
  double clp = 0;
  const double clp_seconds = other ? barrier(program, clp) : 0;
  char text[256];
  std::snprintf(text, sizeof text,
                "{\"blocks\": %d, \"seconds\": %.9g, \"factor\": %.17g, \"clp_seconds\": %.9g, "
                "\"clp_factor\": %.17g}\n",
                program.nodes, seconds, -s.objective, clp_seconds, -clp);
  std::ofstream(to / "own.json") << text;
}

void write_all(const std::filesystem::path& to, const char* name, const sample::Shell& shell,
               double along, bool other) {
  ConeProgram program = sample::limit_program(shell, along, 0.4);
  program.columns[0].upper = 100;
  const std::filesystem::path own = to / (name + std::to_string(program.nodes));
  std::filesystem::create_directories(own);
  const LinearProgram lp = sample::faceted(program, 8, true);
  write(own / "lp_A.mtx", lp.A);
  write(own / "lp_b.txt", lp.b);
  write(own / "lp_c.txt", lp.c);
  std::ofstream bounds(own / "lp_bounds.txt");
  bounds.precision(17);
  for (Eigen::Index i = 0; i < lp.c.size(); ++i) {
    bounds << lp.lower[i] << " " << lp.upper[i] << "\n";
  }
  write_cone(own, program);
  write_own(own, program, other);
}

}  // namespace

int main(int argc, char** argv) {
  const int runs = argc > 1 ? std::max(1, std::atoi(argv[1])) : 5;
  const sample::Shell w60{.courses = 11, .units = 5}, w220{.courses = 21, .units = 10},
      w1000{.courses = 45, .units = 22};
  const sample::Shell s52{.courses = 7, .units = 7, .sail = true},
      s203{.courses = 14, .units = 14, .sail = true},
      s976{.courses = 31, .units = 31, .sail = true};
  if (argc > 2 && std::strcmp(argv[1], "--write") == 0) {
    write_all(argv[2], "vault", w60, 0.3, true);
    write_all(argv[2], "vault", w220, 0.3, true);
    write_all(argv[2], "vault", w1000, 0.3, true);
    write_all(argv[2], "sail", s52, 0.1, true);
    write_all(argv[2], "sail", s976, 0.3, false);
    return 0;
  }
  std::printf("vectors: %s\n", best_kernels().name);
  for (const sample::Shell& shell : {w60, w220, w1000}) cholesky(shell, runs);
  for (const sample::Shell& shell : {w60, w220, w1000}) widths(shell, runs);
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
