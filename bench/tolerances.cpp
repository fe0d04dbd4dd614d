// Tolerances tried beforehand on an assembly: one drawing of errors, one stacking, one packing; so
// many draws on one thread and on two, which must give the same; and, with a fourth argument, the
// whole judgement.
//   bench_tolerances BRIEF ASSEMBLY.json [DRAWS [all]]
#include "survey/tolerances.hpp"

#include <cstdio>
#include <cstdlib>

#include "base/parallel.hpp"
#include "base/timing.hpp"

namespace {

using namespace skewback;

void time_parts(const Brief& brief, const StackModel& model) {
  constexpr int kTimes = 100;
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

double time_draws(const Brief& brief, const StackModel& model, int jobs,
                  std::vector<double>& found) {
  const JobLimit limit(jobs);
  const Stopwatch watch;
  for_each_index(found.size() / 2, [&](std::size_t i) {
    const DrawResult result = try_draw(brief, model, i);
    found[2 * i] = result.key_gap_min_m;
    found[2 * i + 1] = result.packers_m;
  });
  return watch.seconds();
}

void print(const ToleranceReport& r) {
  std::printf("%d draws, trades on %d, packed on %d: %.2f s\n", r.draws, r.trade_draws,
              r.packed_draws, r.seconds);
  std::printf("key by itself %.4f +/- %.4f, packed %.4f +/- %.4f, %d proved: %.4f stand\n",
              r.key_by_itself.share, r.key_by_itself.error, r.goes_in.share, r.goes_in.error,
              r.proved, r.stands.share);
  for (const TightenedTrade& t : r.trades)
    std::printf(
        "%-14s %9.5f  halved %.4f  gone %.4f  alone: gap %6.3f, step %6.3f mm  packers: halved "
        "%6.3f, gone %6.3f mm  budget %.6f\n",
        t.error.c_str(), t.now, t.halved.share, t.gone.share, 1000 * t.alone_m,
        1000 * t.step_alone_m, 1000 * t.packers_halved_m, 1000 * t.packers_gone_m, t.budget);
  std::printf("packers %.3f mm a draw; budget scale %.4f without packers, %.3f with\n",
              1000 * r.packers_mean_m, r.budget_scale, r.budget_scale_packed);
  for (const std::string& remark : r.remarks) std::printf("%s\n", remark.c_str());
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 3) return 2;
  const Result<Brief> read = read_brief(argv[1]);
  const Result<Assembly> assembly = read_assembly(argv[2]);
  if (!read || !assembly) return 2;
  Brief brief = *read;
  if (argc > 3) brief.tolerances.draws = std::atoi(argv[3]);
  if (argc > 4) {
    const Stopwatch watch;
    print(judge_tolerances(brief, *assembly, {}));
    std::printf("with proofs %.2f s\n", watch.seconds());
    return 0;
  }
  const StackModel model(*assembly);
  time_parts(brief, model);
  std::vector<double> one(2 * static_cast<std::size_t>(brief.tolerances.draws)), two(one);
  const double one_s = time_draws(brief, model, 1, one), two_s = time_draws(brief, model, 2, two);
  std::printf("%d draws: %.2f s on one thread, %.2f s on two (%.0f %%); %s\n",
              brief.tolerances.draws, one_s, two_s, 100 * one_s / two_s / 2,
              one == two ? "same results" : "RESULTS DIFFER");
  return one == two ? 0 : 1;
}
