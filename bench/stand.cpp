// Both views on barrel vaults: bench_stand [RUNS] [--from BLOCKS] [--to BLOCKS] [--pads-to BLOCKS]
// [--svg FILE]. Medians of RUNS (5; above 1,500 blocks one) in one run; seconds by the clock and of
// processor. Up to 1,100 blocks, pads up to 2,100, unless said.
//
// Span 10 m, rise 2.5 m, thickness 0.5 m, running bond, springings fixed, friction 0.6. "nave": 40
// courses (fewer below 1,000 blocks) of blocks 1 m long, as long as it takes. "fine": the vault of
// 1,020 blocks, 25 m long, cut finer both ways into tiles: the wider graph. Live load: a patch with
// the dead weight in all; beyond 25 m it grows in length with the vault. bench_cone holds the limit
// against other solvers.

#include <sys/resource.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <ctime>
#include <fstream>
#include <random>

#include "base/constants.hpp"
#include "base/parallel.hpp"
#include "base/timing.hpp"
#include "log_chart.hpp"
#include "solve/kernels.hpp"
#include "stand/limit.hpp"

namespace {

using namespace skewback;

constexpr double kSpan = 10, kRise = 2.5, kThick = 0.5;

struct Shape {
  const char* name = "nave";
  int courses = 0, across = 0;
  double width_m = 0;
};

Assembly vault(const Shape& shape) {
  const double R = (kSpan * kSpan / 4 + kRise * kRise) / (2 * kRise), half = std::asin(5 / R);
  const auto at = [&](double r, double angle, double y) {
    return Vec3(r * std::sin(angle), y, r * std::cos(angle));
  };
  const auto block = [&](const std::string& id, double a0, double a1, double y0, double y1) {
    Block b;
    b.id = id;
    b.density = 2400;
    for (const double y : {y0, y1}) {
      for (const auto& [r, a] : {std::pair{R - kThick / 2, a0},
                                 {R - kThick / 2, a1},
                                 {R + kThick / 2, a1},
                                 {R + kThick / 2, a0}}) {
        b.solid.vertices.push_back(at(r, a, y));
      }
    }
    b.solid.faces = {{0, 1, 2, 3}, {4, 7, 6, 5}, {0, 4, 5, 1},
                     {1, 5, 6, 2}, {2, 6, 7, 3}, {3, 7, 4, 0}};
    return b;
  };
  const double unit = shape.width_m / shape.across;
  Assembly assembly;
  for (int i = 0; i < shape.courses; ++i) {
    const double a0 = -half + 2 * half * i / shape.courses,
                 a1 = -half + 2 * half * (i + 1) / shape.courses;
    std::vector<double> cuts{0};
    for (int k = 0; k < shape.across; ++k) cuts.push_back(unit * (i % 2 == 0 ? k + 1 : k + 0.5));
    if (i % 2 == 1) cuts.push_back(shape.width_m);
    for (std::size_t k = 0; k + 1 < cuts.size(); ++k) {
      assembly.blocks.push_back(
          block("b" + std::to_string(i) + "-" + std::to_string(k), a0, a1, cuts[k], cuts[k + 1]));
    }
  }
  for (const double side : {-1.0, 1.0}) {
    Block ground = block(side < 0 ? "west" : "east", std::min(side * half, side * (half + 0.1)),
                         std::max(side * half, side * (half + 0.1)), 0, shape.width_m);
    ground.fixed = true;
    assembly.blocks.push_back(ground);
  }
  measure(assembly);
  return assembly;
}

LoadCase patch(const Assembly& assembly, double width_m, const Vec3& middle) {
  LoadCase load{"patch", {0, 0, -kGravity}, {}, Vec3::Zero()};
  double weight = 0, sum = 0;
  std::vector<double> share;
  for (const Block& block : assembly.blocks) {
    const Vec3 from = centre_of_gravity(block) - middle;
    const double along = from.y() * std::min(1.0, 25 / width_m);
    const double far = from.x() * from.x() + along * along;
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

struct Cost {
  double seconds = 0, processor = 0;
};

template <class Work>
Cost median(int runs, Work work) {
  std::vector<Cost> costs;
  for (int i = 0; i < runs; ++i) {
    const Stopwatch watch;
    const std::clock_t before = std::clock();
    work();
    costs.push_back({watch.seconds(), double(std::clock() - before) / CLOCKS_PER_SEC});
  }
  std::ranges::sort(costs, {}, &Cost::processor);
  return costs[costs.size() / 2];
}

double peak_mb() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return double(usage.ru_maxrss) / 1024;
}

ConeSummary solve_limit(const Program& p) {
  const ConeColumn live{p.live, -1, 0, 20};
  return p.graph.solver->solve({static_cast<int>(p.blocks.size()), p.cones, {&live, 1}, -p.weight},
                               {.tolerance = 1e-7});
}

void patterns(const Assembly& assembly, const Shape& shape, const Program& program) {
  std::mt19937 rng(1);
  std::uniform_real_distribution<double> unit(0, 1);
  std::vector<LoadCase> cases;
  for (int i = 0; i < 1000; ++i) {
    const double x = -4.5 + 9 * unit(rng), y = shape.width_m * unit(rng);
    cases.push_back(patch(assembly, shape.width_m, Vec3(x, y, 0)));
  }
  std::vector<SolveStatus> ends(cases.size());
  const Cost sweep = median(3, [&] {
    for_each_index(cases.size(), [&](std::size_t i) {
      Program own = program;
      put_live(assembly, cases[i], own);
      ends[i] = solve_limit(own).status;
    });
  });
  std::printf("  1,000 patterns       %9.4f s (%.4f)  on all threads, %td optimal\n", sweep.seconds,
              sweep.processor, std::ranges::count(ends, SolveStatus::kOptimal));
}

struct Row {
  Shape shape;
  std::size_t blocks = 0, points = 0;
  Cost detect, limit, pads;
  int iterations = 0, steps = 0, rounds = 0;
  double limit_mb = 0;  // peak of the process so far
};

Row measure_vault(const Shape& shape, int runs, std::size_t pads_to) {
  Row row;
  row.shape = shape;
  Assembly assembly = vault(shape);
  runs = assembly.blocks.size() > 1500 ? 1 : runs;
  row.detect = median(runs, [&] { assembly.joints = detect_joints(assembly.blocks, 0.6); });
  const LoadCase load = patch(assembly, shape.width_m, Vec3(-2, shape.width_m / 2, 0));
  assembly.cases = {load};
  const Stopwatch building;
  const Program program = build(assembly, load, {});
  const double built = building.seconds();
  ConeSummary summary;
  row.blocks = program.blocks.size();
  row.points = program.cones.size();
  std::printf("%s of %zu blocks (%d x %d), %zu contact points\n", shape.name, row.blocks,
              shape.courses, shape.across, row.points);
  std::printf("  joints detected      %9.4f s (%.4f), program built in %.3f s\n",
              row.detect.seconds, row.detect.processor, built);
  std::fflush(stdout);
  row.limit = median(runs, [&] { summary = solve_limit(program); });
  row.limit_mb = peak_mb();
  row.iterations = summary.iterations;
  std::printf(
      "  limit, one pattern   %9.4f s (%.4f)  factor %.9g, gap %.0e, residual %.0e, all worth "
      "%.0e, "
      "%d iterations, peak %.0f MB%s%s\n",
      row.limit.seconds, row.limit.processor, summary.columns.size() > 0 ? summary.columns[0] : 0,
      summary.gap_rel, summary.primal_residual, summary.residual_worth, summary.iterations,
      row.limit_mb, summary.reason.empty() ? "" : "; ", summary.reason.c_str());
  std::fflush(stdout);
  if (row.blocks > pads_to) return row;
  const PadModel model(assembly, {});
  PadOptions pads;
  pads.load_factor = 0.7 * (summary.columns.size() > 0 ? summary.columns[0] : 0);
  PadState state;
  row.pads = median(runs, [&] { state = model.solve(load, pads); });
  row.steps = state.steps;
  row.rounds = state.rounds;
  std::printf(
      "  pads, 0.7 of that    %9.4f s (%.4f)  %s, %d steps, %d rounds of friction, over by %.0e, "
      "residual %.0e, peak %.0f MB\n",
      row.pads.seconds, row.pads.processor, state.found ? "found" : state.reason.c_str(),
      state.steps, state.rounds, state.beyond_friction_rel, state.residual_rel, peak_mb());
  std::fflush(stdout);
  if (row.blocks < 100 && row.blocks > 60) patterns(assembly, shape, program);
  return row;
}

void print_table(const std::vector<Row>& rows) {
  std::printf(
      "\nSeconds of processor.\n\n| shape | blocks | contact points | joints s | limit s | "
      "iterations | peak MB | pads s | "
      "steps | rounds |\n|---|---|---|---|---|---|---|---|---|---|\n");
  for (const Row& r : rows) {
    std::printf("| %s | %zu | %zu | %.3g | %.3g | %d | %.0f | %.3g | %d | %d |\n", r.shape.name,
                r.blocks, r.points, r.detect.processor, r.limit.processor, r.iterations, r.limit_mb,
                r.pads.processor, r.steps, r.rounds);
  }
}

void write_chart(const std::vector<Row>& rows, const char* path) {
  std::vector<bench::Series> series;
  for (const char* shape : {"nave", "fine"}) {
    const auto take = [&](const char* what, Cost Row::*cost) {
      bench::Series s{std::string(what) + ", " + shape, {}};
      for (const Row& r : rows) {
        if (std::strcmp(r.shape.name, shape) != 0 && r.blocks > 1100) continue;
        if ((r.*cost).processor > 0) s.points.push_back({double(r.blocks), (r.*cost).processor});
      }
      if (s.points.size() > 1) series.push_back(std::move(s));
    };
    take("limit", &Row::limit);
    take("pads", &Row::pads);
    take("joints", &Row::detect);
  }
  std::ofstream(path) << bench::log_chart("Processor time against size", "blocks", "s", series);
}

}  // namespace

int main(int argc, char** argv) {
  int runs = 5;
  std::size_t least = 0, most = 1100, pads_to = 2100;
  const char* chart = nullptr;
  for (int i = 1; i < argc; ++i) {
    if (std::strcmp(argv[i], "--to") == 0 && i + 1 < argc) {
      most = std::size_t(std::max(60, std::atoi(argv[++i])));
    } else if (std::strcmp(argv[i], "--from") == 0 && i + 1 < argc) {
      least = std::size_t(std::max(0, std::atoi(argv[++i])));
    } else if (std::strcmp(argv[i], "--pads-to") == 0 && i + 1 < argc) {
      pads_to = std::size_t(std::max(0, std::atoi(argv[++i])));
    } else if (std::strcmp(argv[i], "--svg") == 0 && i + 1 < argc) {
      chart = argv[++i];
    } else {
      runs = std::max(1, std::atoi(argv[i]));
    }
  }
  std::printf("vectors: %s; seconds by the clock (of processor)\n", best_kernels().name);
  std::vector<Row> rows;
  for (const Shape& shape : {Shape{"nave", 9, 5, 5},
                             {"nave", 12, 5, 5},
                             {"nave", 20, 10, 10},
                             {"nave", 40, 25, 25},
                             {"nave", 40, 50, 50},
                             {"fine", 57, 35, 25},
                             {"nave", 40, 123, 123},
                             {"fine", 89, 56, 25},
                             {"nave", 40, 247, 247},
                             {"fine", 126, 79, 25},
                             {"nave", 40, 494, 494},
                             {"fine", 178, 112, 25}}) {
    const auto size = std::size_t(shape.courses * shape.across);
    if (size < least || size > most) continue;
    rows.push_back(measure_vault(shape, runs, pads_to));
  }
  print_table(rows);
  if (chart != nullptr) write_chart(rows, chart);
}
