// The whole chain on each demo: medians of seconds per stage, and the total against its limit.
//   bench_chain REPEATS BRIEF...
#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <vector>

#include "base/timing.hpp"
#include "works/works.hpp"

namespace {

constexpr double kLimitS = 10;  // aim for a three-armed footbridge on 2 cores

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return (values[(values.size() - 1) / 2] + values[values.size() / 2]) / 2;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 3) {
    std::fprintf(stderr, "usage: bench_chain REPEATS BRIEF...\n");
    return 2;
  }
  for (int i = 2; i < argc; ++i) {
    const auto brief = skewback::read_brief(argv[i]);
    if (!brief) {
      std::fprintf(stderr, "%s\n", skewback::describe(brief.faults().front()).c_str());
      return 2;
    }
    std::map<std::string, std::vector<double>> seconds;
    for (int repeat = 0; repeat < std::atoi(argv[1]); ++repeat) {
      const skewback::Stopwatch watch;
      const auto dossier = skewback::run_works(*brief, {}, {});
      if (!dossier) {
        std::fprintf(stderr, "%s\n", skewback::describe(dossier.faults().front()).c_str());
        return 1;
      }
      for (const auto& [stage, s] : dossier->timings_s) seconds[stage].push_back(s);
      seconds["all"].push_back(watch.seconds());
    }
    std::printf("%s\n", brief->name.c_str());
    for (const std::string& stage : skewback::stage_names()) {
      if (seconds.count(stage) != 0)
        std::printf("  %-8s %7.3f s\n", stage.c_str(), median(seconds[stage]));
    }
    const double all = median(seconds["all"]);
    std::printf("  %-8s %7.3f s   %.2f of the limit of %.0f s\n", "all", all, all / kLimitS,
                kLimitS);
  }
  return 0;
}
