// Least load path over random nets of growing size: time, steps, gap and residuals.
//   bench_load_path [LARGEST]   meshes along a side, doubled from 8 up to LARGEST (64)
#include "form/load_path.hpp"

#include <cstdio>
#include <cstdlib>

#include "base/timing.hpp"
#include "form/sample_nets.hpp"

int main(int argc, char** argv) {
  const int largest = argc > 1 ? std::atoi(argv[1]) : 64;
  std::printf("%6s %5s %7s %6s %8s %9s %9s %9s %6s\n", "side", "seed", "edges", "steps", "s", "gap",
              "sideways", "vertical", "idle");
  for (int side = 8; side <= largest; side *= 2)
    for (unsigned seed = 1; seed <= 3; ++seed) {
      std::mt19937 random(seed);
      const skewback::Net net = skewback::sample::shaken_grid(side, side, 0.25, true, random);
      const auto load = skewback::sample::random_loads(net, random);
      const skewback::Stopwatch watch;
      const auto best = skewback::least_load_path(net, load);
      const double seconds = watch.seconds();
      if (!best) {
        std::fprintf(stderr, "side %d, seed %u: %s\n", side, seed,
                     skewback::describe(best.faults().front()).c_str());
        return 1;
      }
      std::printf("%6d %5u %7zu %6d %8.3f %9.1e %9.1e %9.1e %6d\n", side, seed, net.edges.size(),
                  best->iterations, seconds, best->gap_rel, best->plan_residual_rel,
                  best->height_residual_rel, best->idle_edges);
    }
  return 0;
}
