// Both views on barrel vaults: bench_stand [RUNS]. Medians of RUNS (5) in one run, one thread
// unless said. Span 10 m, rise 2.5 m, thickness 0.5 m, running bond, springings fixed, friction
// 0.6; live load: a patch whose total is the dead weight. bench_cone holds the limit against other
// solvers.

#include "stand/stand.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <random>

#include "base/constants.hpp"
#include "base/parallel.hpp"
#include "base/timing.hpp"
#include "stand/limit.hpp"

namespace {

using namespace skewback;

Assembly vault(int courses, int across) {
  const double rise = 2.5, t = 0.5, R = (25 + rise * rise) / (2 * rise), half = std::asin(5 / R);
  const double width = across;
  const auto at = [&](double r, double angle, double y) {
    return Vec3(r * std::sin(angle), y, r * std::cos(angle));
  };
  const auto block = [&](const std::string& id, double a0, double a1, double y0, double y1) {
    Block b;
    b.id = id;
    b.density = 2400;
    for (const double y : {y0, y1}) {
      for (const auto& [r, a] :
           {std::pair{R - t / 2, a0}, {R - t / 2, a1}, {R + t / 2, a1}, {R + t / 2, a0}}) {
        b.solid.vertices.push_back(at(r, a, y));
      }
    }
    b.solid.faces = {{0, 1, 2, 3}, {4, 7, 6, 5}, {0, 4, 5, 1},
                     {1, 5, 6, 2}, {2, 6, 7, 3}, {3, 7, 4, 0}};
    return b;
  };
  Assembly assembly;
  for (int i = 0; i < courses; ++i) {
    const double a0 = -half + 2 * half * i / courses, a1 = -half + 2 * half * (i + 1) / courses;
    std::vector<double> cuts{0};
    for (int k = 0; k < across; ++k) cuts.push_back(i % 2 == 0 ? k + 1 : k + 0.5);
    if (i % 2 == 1) cuts.push_back(across);
    for (std::size_t k = 0; k + 1 < cuts.size(); ++k) {
      assembly.blocks.push_back(
          block("b" + std::to_string(i) + "-" + std::to_string(k), a0, a1, cuts[k], cuts[k + 1]));
    }
  }
  for (const double side : {-1.0, 1.0}) {
    Block ground = block(side < 0 ? "west" : "east", std::min(side * half, side * (half + 0.1)),
                         std::max(side * half, side * (half + 0.1)), 0, width);
    ground.fixed = true;
    assembly.blocks.push_back(ground);
  }
  measure(assembly);
  return assembly;
}

LoadCase patch(const Assembly& assembly, const Vec3& middle) {
  LoadCase load{"patch", {0, 0, -kGravity}, {}, Vec3::Zero()};
  double weight = 0, sum = 0;
  std::vector<double> share;
  for (const Block& block : assembly.blocks) {
    const double far = (centre_of_gravity(block) - middle).head<2>().squaredNorm();
    share.push_back(block.fixed ? 0 : std::exp(-far));
    sum += share.back();
    if (!block.fixed) weight += mass_kg(block) * kGravity;
  }
  for (std::size_t i = 0; i < share.size(); ++i) {
    if (share[i] < 1e-6 * sum) continue;
    load.live.push_back({static_cast<int>(i), centre_of_gravity(assembly.blocks[i]),
                         Vec3(0, 0, -weight * share[i] / sum)});
  }
  return load;
}

template <class Work>
double median(int runs, Work work) {
  std::vector<double> times;
  for (int i = 0; i < runs; ++i) {
    const Stopwatch watch;
    work();
    times.push_back(watch.seconds());
  }
  std::sort(times.begin(), times.end());
  return times[times.size() / 2];
}

ConeProgram limit_program(const Program& p) {
  ConeProgram program{static_cast<int>(p.blocks.size()), p.cones, {}, -p.weight};
  program.columns.push_back({p.live, -1, 0, 20});
  return program;
}

void measure_vault(int courses, int across, int runs) {
  Assembly assembly = vault(courses, across);
  const Stopwatch watch;
  assembly.joints = detect_joints(assembly.blocks, 0.6);
  const double detect = watch.seconds();
  const LoadCase load = patch(assembly, Vec3(-2, across / 2.0, 0));
  assembly.cases = {load};
  const Program program = build(assembly, load, {});
  const ConeProgram cones = limit_program(program);
  ConeSummary summary;
  const double limit =
      median(runs, [&] { summary = program.graph.solver->solve(cones, {.tolerance = 1e-7}); });
  std::printf("vault of %zu blocks, %zu contact points\n  joints detected      %9.4f s\n",
              program.blocks.size(), program.cones.size(), detect);
  std::printf(
      "  limit, one pattern   %9.4f s  factor %.9g, gap %.0e, residual %.0e, %d iterations\n",
      limit, summary.columns.size() > 0 ? summary.columns[0] : 0, summary.gap_rel,
      summary.primal_residual, summary.iterations);
  const PadModel model(assembly, {});
  PadOptions pads;
  pads.load_factor = 0.7 * (summary.columns.size() > 0 ? summary.columns[0] : 0);
  PadState state;
  const bool large = program.blocks.size() > 500;
  const double settle = median(large ? 1 : runs, [&] { state = model.solve(load, pads); });
  std::printf("  pads, 0.7 of that    %9.4f s  %s, %d steps, %d rounds of friction\n", settle,
              state.found ? "found" : state.reason.c_str(), state.steps, state.rounds);
  if (program.blocks.size() < 100) {
    std::mt19937 rng(1);
    std::uniform_real_distribution<double> unit(0, 1);
    std::vector<LoadCase> cases;
    for (int i = 0; i < 1000; ++i) {
      cases.push_back(patch(assembly, Vec3(-4.5 + 9 * unit(rng), across * unit(rng), 0)));
    }
    std::vector<SolveStatus> ends(cases.size());
    const Stopwatch sweep;
    for_each_index(cases.size(), [&](std::size_t i) {
      Program own = program;
      put_live(assembly, cases[i], own);
      ends[i] = own.graph.solver->solve(limit_program(own), {.tolerance = 1e-7}).status;
    });
    std::printf("  1,000 patterns       %9.4f s  on all threads, %td optimal\n", sweep.seconds(),
                std::count(ends.begin(), ends.end(), SolveStatus::kOptimal));
  }
}

}  // namespace

int main(int argc, char** argv) {
  const int runs = argc > 1 ? std::max(1, std::atoi(argv[1])) : 5;
  measure_vault(12, 5, runs);
  measure_vault(20, 10, runs);
  measure_vault(40, 25, runs);
}
