// Tolerances judged beforehand on an assembly: seconds for so many draws on one thread and on two,
// and for one stacking and one packing.
//   bench_tolerances BRIEF ASSEMBLY.json [DRAWS [THREADS]]
#include "survey/tolerances.hpp"

#include <cstdio>
#include <cstdlib>

#include "base/parallel.hpp"
#include "base/timing.hpp"

namespace {

using namespace skewback;

double seconds(const Brief& brief, const Assembly& assembly, int jobs, ToleranceReport& report) {
  const JobLimit limit(jobs);
  report = judge_tolerances(brief, assembly, {});
  return report.seconds;
}

void time_parts(const Brief& brief, const Assembly& assembly) {
  constexpr int kTimes = 200;
  const StackModel model(assembly);
  double in_all[3] = {0, 0, 0};
  for (int i = 0; i < kTimes; ++i) {
    Stopwatch watch;
    const AsMade made = draw_errors(brief, model, static_cast<std::uint64_t>(i));
    in_all[0] += watch.seconds();
    watch = Stopwatch();
    (void)stack_up(model, made, brief.packing);
    in_all[1] += watch.seconds();
    watch = Stopwatch();
    (void)pack_up(model, made, brief.packing, {.springers = false});
    in_all[2] += watch.seconds();
  }
  std::printf("one draw of errors %.3f ms, stacking %.3f ms, packing %.3f ms\n",
              1000 * in_all[0] / kTimes, 1000 * in_all[1] / kTimes, 1000 * in_all[2] / kTimes);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 3) return 2;
  const Result<Brief> read = read_brief(argv[1]);
  const Result<Assembly> assembly = read_assembly(argv[2]);
  if (!read || !assembly) return 2;
  Brief brief = *read;
  if (argc > 3) brief.tolerances.draws = std::atoi(argv[3]);
  brief.tolerances.proof_draws = 0;
  time_parts(brief, *assembly);
  const int jobs = argc > 4 ? std::atoi(argv[4]) : 0;
  if (jobs > 0) {  // for a look at one number of threads alone
    ToleranceReport report;
    std::printf("%d threads: %.2f s\n", jobs, seconds(brief, *assembly, jobs, report));
    return 0;
  }
  ToleranceReport one, two;
  const double one_s = seconds(brief, *assembly, 1, one), two_s = seconds(brief, *assembly, 2, two);
  std::printf("%d draws, trades on %d: %.2f s on one thread, %.2f s on two (%.0f %%)\n", two.draws,
              two.trade_draws, one_s, two_s, 100 * one_s / two_s / 2);
  std::printf("key by itself %.4f +/- %.4f, packed %.4f +/- %.4f, budget scale %.4f\n",
              two.key_by_itself.share, two.key_by_itself.error, two.goes_in.share,
              two.goes_in.error, two.budget_scale);
  for (const TightenedTrade& t : two.trades)
    std::printf(
        "%-14s %9.5f  halved %.4f  gone %.4f  alone: gap %6.3f, step %6.3f mm  packers: halved "
        "%6.2f, gone %6.2f mm  budget %.6f\n",
        t.error.c_str(), t.now, t.halved.share, t.gone.share, 1000 * t.alone_m,
        1000 * t.step_alone_m, 1000 * t.packers_halved_m, 1000 * t.packers_gone_m, t.budget);
  std::printf("packers %.2f mm a draw, budget scale packed %.3f\n", 1000 * two.packers_mean_m,
              two.budget_scale_packed);
  std::printf("%s\n", one.key_gap_m == two.key_gap_m && one.packers_m == two.packers_m
                          ? "same results on one and two"
                          : "RESULTS DIFFER");
  return 0;
}
