// Packing one draw of errors, processor time of one thread: own interior point, the whole of
// pack_up, stack_up, and Clp's dual simplex on the same program.
//   bench_packing ASSEMBLY.json [DRAWS] [MOST_MM]
#include "survey/packing.hpp"

#include <coin/ClpSimplex.hpp>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <random>

#include "survey/sample_packing.hpp"

namespace {

using namespace skewback;

constexpr int kClpDraws = 3;  // it is slow

/// Footings off by up to `most` any way and 0.2 degrees about the vertical, beds and pads in share.
AsMade errors(const Assembly& assembly, double most, std::mt19937_64& random) {
  std::uniform_real_distribution<double> any(-1, 1);
  AsMade made = sample::footings_off(assembly, most, 3.5e-3, random);
  for (BedError& bed : made.on_b) {
    bed.height_m = 0.0005 * any(random);
    bed.slope = 0.0004 * Vec2(any(random), any(random));
    for (double& corner : bed.corner_m) corner = 0.0002 * any(random);
  }
  for (double& pad : made.pad_m) pad = 0.0002 * any(random);
  return made;
}

double cpu_s() {
  timespec t{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
  return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}

struct Simplex {
  double seconds = 0, objective = 0;
  bool optimal = false;
};
/// Without the columns of slacks: rows up to b.
Simplex by_clp(const LinearProgram& lp) {
  const double from = cpu_s();
  const SparseMatrix A = lp.A.leftCols(lp.A.cols() - lp.A.rows());
  std::vector<CoinBigIndex> start(A.outerIndexPtr(), A.outerIndexPtr() + A.cols() + 1);
  VectorX low = lp.lower.head(A.cols());
  for (double& bound : low) bound = bound <= -1e299 ? -COIN_DBL_MAX : bound;
  const VectorX high = VectorX::Constant(A.cols(), COIN_DBL_MAX),
                none = VectorX::Constant(A.rows(), -COIN_DBL_MAX);
  ClpSimplex model;
  model.loadProblem(static_cast<int>(A.cols()), static_cast<int>(A.rows()), start.data(),
                    A.innerIndexPtr(), A.valuePtr(), low.data(), high.data(), lp.c.data(),
                    none.data(), lp.b.data());
  model.setLogLevel(0);
  model.setPrimalTolerance(1e-9);
  model.setDualTolerance(1e-9);
  model.setMaximumSeconds(20);
  model.dual();
  return {cpu_s() - from, model.objectiveValue(), model.isProvenOptimal()};
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) return 2;
  const auto read = read_assembly(argv[1]);
  if (!read) return 2;
  const Assembly& assembly = *read;
  const int draws = argc > 2 ? std::atoi(argv[2]) : 20;
  const double most = argc > 3 ? 1e-3 * std::atof(argv[3]) : 0.010;
  const StackModel model(assembly);
  PackingRequest request;
  std::mt19937_64 random(1);
  double stack_s = 0, pack_s = 0, own_s = 0, clp_s = 0, apart = 0;
  int lost = 0, steps = 0, goes = 0, packed = 0;
  for (int i = 0; i < draws; ++i) {
    const AsMade made = errors(assembly, most, random);
    double from = cpu_s();
    const Stack stack = stack_up(model, made, request);
    stack_s += cpu_s() - from;
    from = cpu_s();
    const Packed all = pack_up(model, made, request);
    pack_s += cpu_s() - from;
    goes += all.goes_in ? 1 : 0;
    packed += all.packed_joints;
    const PackProgram program = pack_program(model, made, request, true);
    from = cpu_s();
    const PackSolution own = solve_packing(program, stack.moves);
    own_s += cpu_s() - from;
    steps += own.iterations;
    if (i >= kClpDraws) continue;
    const Simplex clp = by_clp(sample::plain_program(program));
    clp_s += clp.seconds;
    if (!clp.optimal) {
      ++lost;
      continue;
    }
    apart = std::max(apart, std::abs(1e3 * own.objective_m - clp.objective) / (1 + clp.objective));
  }
  std::printf(
      "%s: %zu blocks, %zu joints, %d draws: stack_up %.3f ms, pack_up %.3f ms, program alone %.3f "
      "ms (%.1f steps), Clp dual simplex %.1f ms (%d of %d not solved); optima apart %.1e; %d go "
      "in, %.2f joints "
      "packed\n",
      argv[1], assembly.blocks.size(), assembly.joints.size(), draws, 1e3 * stack_s / draws,
      1e3 * pack_s / draws, 1e3 * own_s / draws, static_cast<double>(steps) / draws,
      1e3 * clp_s / std::min(draws, kClpDraws), lost, std::min(draws, kClpDraws), apart, goes,
      static_cast<double>(packed) / draws);
  return 0;
}
