// Building it: the centring drawn, every stage of placing, lowering, laying and taking down proved
// under its weight and under people and wind, the centring judged under all of it until it passes,
// its parts laid on sheets. Seconds on the clock and of the processors, the latter over two against
// the aim of 30 s: what a machine with two free cores takes at best; and in the same run how many
// limit proofs of the whole bridge a stage costs.
//   bench_stages BRIEF
#include <sys/resource.h>

#include <algorithm>
#include <cstdio>
#include <string>

#include "base/timing.hpp"
#include "works/works.hpp"

namespace {

using namespace skewback;
constexpr double kAimS = 30;

double processor_s() {
  rusage used{};
  getrusage(RUSAGE_SELF, &used);
  const auto seconds = [](const timeval& t) {
    return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
  };
  return seconds(used.ru_utime) + seconds(used.ru_stime);
}

struct Took {
  double clock_s = 0, processor_s = 0;
};

template <typename Work>
Took timed(const char* what, Work&& work) {
  const Stopwatch watch;
  const double before = processor_s();
  work();
  const Took took{watch.seconds(), processor_s() - before};
  std::printf("  %-34s %8.2f s   %8.2f s of processors\n", what, took.clock_s, took.processor_s);
  std::fflush(stdout);
  return took;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) {
    std::fprintf(stderr, "usage: bench_stages BRIEF\n");
    return 2;
  }
  const auto brief = read_brief(argv[1]);
  if (!brief) {
    std::fprintf(stderr, "%s\n", describe(brief.faults().front()).c_str());
    return 2;
  }
  WorksOptions until;
  until.until = "loads";
  const auto dossier = run_works(*brief, until, {});
  if (!dossier) {
    std::fprintf(stderr, "%s\n", describe(dossier.faults().front()).c_str());
    return 1;
  }
  const Assembly& assembly = dossier->cut->assembly;
  std::printf("%s\n", brief->name.c_str());

  std::optional<Centring> centring;
  Programme programme;
  Took all;
  const auto add = [&](const Took& took) {
    all.clock_s += took.clock_s;
    all.processor_s += took.processor_s;
  };
  add(timed("centring drawn", [&] {
    auto made = make_centring(*brief, assembly);
    if (made) centring = std::move(made).value();
  }));
  const Took stages = timed("stages, lowering, taking down", [&] {
    programme = plan_erection(*brief, assembly, centring ? &*centring : nullptr);
  });
  add(stages);
  if (centring) {
    add(timed("centring judged until it passes", [&] {
      auto made = settle_centring(*brief, assembly, seat_loads(programme));
      if (made) centring = std::move(made).value();
    }));
    Centring nested = *centring;
    timed("parts on sheets (not counted)", [&] { (void)nest_parts(*brief, nested); });
  }
  constexpr int kRepeats = 20;
  const LoadCase& dead = assembly.cases.front();
  const Took whole = timed("20 limit proofs of the whole", [&] {
    for (int i = 0; i < kRepeats; ++i) (void)limit_load(assembly, dead, dossier->stand_options);
  });
  const auto n = static_cast<double>(programme.stages.size());
  const auto tried =
      std::ranges::count_if(programme.stages, [](const Stage& s) { return s.working.has_value(); });
  const auto standing =
      std::ranges::count_if(programme.stages, [](const Stage& s) { return stands(s); });
  std::printf("%zu stages, %ld of them under people and wind too; %ld stand\n",
              programme.stages.size(), static_cast<long>(tried), static_cast<long>(standing));
  std::printf("a stage: %.3f s of processors, %.1f limit proofs of the whole bridge\n",
              stages.processor_s / n, stages.processor_s / n / (whole.processor_s / kRepeats));
  std::printf(
      "in all: %.1f s on the clock; %.1f s of processors, over 2: %.1f s, %.2f of the aim of "
      "%.0f s\n",
      all.clock_s, all.processor_s, all.processor_s / 2, all.processor_s / 2 / kAimS, kAimS);
  return 0;
}
