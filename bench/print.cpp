// The print step on each demo: seconds with all checks of the tool, against its limit, and the
// memory that the paths of the nozzle take.
//   bench_print REPEATS BRIEF...
#include <sys/resource.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <vector>

#include "base/timing.hpp"
#include "works/works.hpp"

namespace {

constexpr double kLimitS = 60;  // aim for a three-armed footbridge on 2 cores

double peak_mb() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return static_cast<double>(usage.ru_maxrss) / 1024;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 3) {
    std::fprintf(stderr, "usage: bench_print REPEATS BRIEF...\n");
    return 2;
  }
  for (int i = 2; i < argc; ++i) {
    const auto brief = skewback::read_brief(argv[i]);
    if (!brief) {
      std::fprintf(stderr, "%s\n", skewback::describe(brief.faults().front()).c_str());
      return 2;
    }
    skewback::WorksOptions options;
    options.until = "stand";
    options.depth = false;
    const auto dossier = skewback::run_works(*brief, options, {});
    if (!dossier) {
      std::fprintf(stderr, "%s\n", skewback::describe(dossier.faults().front()).c_str());
      return 1;
    }
    const double before = peak_mb();
    std::vector<double> seconds;
    std::size_t poses = 0, printable = 0, blocks = 0;
    for (int repeat = 0; repeat < std::max(1, std::atoi(argv[1])); ++repeat) {
      const skewback::Stopwatch watch;
      const skewback::PrintSet set =
          skewback::print_blocks(*brief, dossier->cut->assembly, dossier->proofs, {});
      seconds.push_back(watch.seconds());
      poses = printable = 0;
      blocks = set.blocks.size();
      for (const skewback::BlockPrint& block : set.blocks) {
        poses += block.poses.size();
        printable += block.printable ? 1 : 0;
      }
    }
    std::sort(seconds.begin(), seconds.end());
    const double median = seconds[seconds.size() / 2];
    std::printf("%s: %zu of %zu blocks printable, %zu poses\n", brief->name.c_str(), printable,
                blocks, poses);
    std::printf("  %7.2f s   %.2f of the limit of %.0f s\n", median, median / kLimitS, kLimitS);
    std::printf("  peak memory %.0f MB, before printing %.0f MB; a pose takes %zu bytes\n",
                peak_mb(), before, sizeof(skewback::Pose));
  }
  return 0;
}
