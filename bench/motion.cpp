// How fast blocks go in time: updates of contact points a second a core, with the search for new
// contacts and the ledger on, beside the time to read the same bytes from memory; and a given
// assembly until it is at rest.
//   bench_motion [ASSEMBLY.json]

#include "motion/motion.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <string>
#include <vector>

#include "base/constants.hpp"
#include "base/timing.hpp"
#include "motion/touch.hpp"

using namespace skewback;

namespace {

constexpr int kRepeats = 3;

double median(std::vector<double> all) {
  std::sort(all.begin(), all.end());
  return all[all.size() / 2];
}

/// A wall in running bond on a slab: `courses` of `length` blocks, every second course starting
/// with a half.
Assembly wall(int length, int courses) {
  const double b = 0.45, d = 0.3, h = 0.25;
  Assembly assembly;
  const auto add = [&](double from, double to, double z, bool fixed) {
    Block block;
    block.id = "b" + std::to_string(assembly.blocks.size());
    block.solid = box({from, 0, z}, {to, d, z + h});
    block.density = 2300;
    block.fixed = fixed;
    assembly.blocks.push_back(block);
  };
  add(-1, length * b + 1, -h, true);
  for (int course = 0; course < courses; ++course) {
    std::vector<double> at{0};
    for (int i = 0; i < length; ++i) at.push_back((i + (course % 2 == 0 ? 1 : 0.5)) * b);
    if (course % 2 != 0) at.push_back(length * b);
    for (std::size_t i = 0; i + 1 < at.size(); ++i) add(at[i], at[i + 1], course * h, false);
  }
  assembly.joints = detect_joints(assembly.blocks, 0.6);
  measure(assembly);
  return assembly;
}

/// Seconds to read `bytes` once, eight sums at a time.
double stream_s(std::size_t bytes) {
  std::vector<double> data(std::max<std::size_t>(8, bytes / 8), 1.0);
  double sums[8] = {};
  std::vector<double> all;
  const int rounds = static_cast<int>(std::max<std::size_t>(1, 200'000'000 / bytes));
  for (int repeat = 0; repeat < kRepeats; ++repeat) {
    const Stopwatch watch;
    for (int round = 0; round < rounds; ++round)
      for (std::size_t i = 0; i + 8 <= data.size(); i += 8)
        for (std::size_t k = 0; k < 8; ++k) sums[k] += data[i + k];
    all.push_back(watch.seconds() / rounds);
  }
  if (sums[0] < 0) std::printf("%g\n", sums[0]);  // so that it is done
  return median(all);
}

void report(int length, int courses, int threads) {
  const Assembly assembly = wall(length, courses);
  LoadCase weight;
  MotionOptions options;
  options.threads = threads;
  const Stopwatch making;
  MotionRun run(assembly, weight, {}, options);
  const double made_s = making.seconds();
  Motion motion = run.go_for(1e-9);
  const double step_s = motion.step_s;
  const double steps = std::max(50.0, 50 * std::ceil(4e6 / motion.points / 50));
  std::vector<double> rates;
  for (int repeat = 0; repeat < kRepeats; ++repeat) {
    const double before = motion.contact_updates;
    const Stopwatch watch;
    motion = run.go_for(steps * step_s);
    rates.push_back((motion.contact_updates - before) / watch.seconds());
  }
  const std::size_t bytes =
      motion::kColumns * sizeof(double) * static_cast<std::size_t>(motion.points);
  const double rate = median(rates);
  std::printf(
      "%7zu blocks %8d points %d threads  made in %6.2f s  %7.1f M updates/s  %7.1f a core  "
      "a step %9.6f s, its bytes read in %9.6f s  ledger %.1e\n",
      assembly.blocks.size() - 1, motion.points, threads, made_s, rate * 1e-6,
      rate * 1e-6 / threads, motion.points / rate, stream_s(bytes), motion.energy.error);
}

/// The loop over points alone, of one touch of 4,096 points in cache.
void report_kernel(const char* name) {
  const motion::TouchKernel* kernel = motion::touch_kernel_named(name);
  if (kernel == nullptr) {
    std::printf("  %-7s not on this machine\n", name);
    return;
  }
  motion::Touch touch;
  touch.kn = 1e10;
  touch.ks = 4e9;
  std::vector<motion::TouchPoint> points;
  for (int i = 0; i < 4096; ++i) {
    const Vec2 p(i % 64 / 64.0 - 0.5, i / 64 / 64.0 - 0.5);
    points.push_back({{p.x(), p.y(), 0}, 1.0 / 4096, p});
  }
  put_points(touch, points);
  motion::TouchStep s{};
  for (int c = 0; c < motion::kColumns; ++c) s.column[c] = touch.column(c);
  s.padded = touch.padded;
  s.turn[0] = s.turn[4] = s.turn[8] = 1;
  s.shift[2] = -1e-5;
  s.friction = 0.5;
  s.dash_s = 1e-3;
  s.v[2] = 0.01;
  const auto rate = [&](void (*loop)(motion::TouchStep&)) {
    std::vector<double> all;
    for (int repeat = 0; repeat < kRepeats; ++repeat) {
      const Stopwatch watch;
      for (int k = 0; k < 2000; ++k) {
        s.shift[0] = 1e-5 * (k % 7);
        loop(s);
      }
      all.push_back(2000 * 4096 / watch.seconds());
    }
    return 1e-6 * median(all);
  };
  std::printf("  %-7s %8.1f M points/s, with dashpots %8.1f\n", name, rate(kernel->springs),
              rate(kernel->dashpots));
}

void report_rest(const char* file, int threads) {
  const Result<Assembly> assembly = read_assembly(file);
  if (!assembly) {
    std::fprintf(stderr, "%s\n", describe(assembly.faults().front()).c_str());
    return;
  }
  MotionOptions options;
  options.threads = threads;
  LoadCase weight;
  const Stopwatch watch;
  const Motion motion = let_go(*assembly, weight, {}, options);
  const double s = watch.seconds();
  std::printf(
      "%s, %d threads: %s after %.2f s and %ld steps of %d points, in %.2f s (%.1f M "
      "updates/s)\n",
      file, threads, word(motion.ending), motion.time_s, motion.steps, motion.points, s,
      motion.contact_updates / s * 1e-6);
}

}  // namespace

int main(int argc, char** argv) {
  std::setvbuf(stdout, nullptr, _IOLBF, 0);
  std::printf("the loop over points\n");
  for (const char* name : {"plain", "avx2", "avx512"}) report_kernel(name);
  for (const int threads : {1, 2}) {
    report(6, 10, threads);
    report(25, 40, threads);
    report(100, 200, threads);
  }
  for (const int threads : {1, 2})
    if (argc > 1) report_rest(argv[1], threads);
  return 0;
}
