// Writes random nets and the least load paths found over them as JSON, for check_load_path.py.
//   load_path_nets FIRST_SEED COUNT
#include <cstdio>
#include <cstdlib>

#include "form/load_path.hpp"
#include "form/sample_nets.hpp"

namespace {

void write(unsigned seed, const skewback::Net& net, const std::vector<double>& load,
           const skewback::LoadPath& best) {
  const char* separator = "";
  std::printf("{\"seed\": %u, \"path\": %.17g, \"points\": [", seed, best.path_nm);
  for (std::size_t i = 0; i < net.points.size(); ++i, separator = ", ")
    std::printf("%s{\"x\": %.17g, \"y\": %.17g, \"fixed\": %s, \"load\": %.17g, \"z\": %.17g}",
                separator, net.points[i].x(), net.points[i].y(), net.fixed[i] ? "true" : "false",
                load[i], best.net.points[i].z());
  std::printf("], \"edges\": [");
  separator = "";
  for (std::size_t k = 0; k < net.edges.size(); ++k, separator = ", ")
    std::printf("%s{\"a\": %d, \"b\": %d, \"q\": %.17g}", separator, net.edges[k].a, net.edges[k].b,
                best.net.edges[k].q);
  std::printf("]}");
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 3) return 2;
  const unsigned first = unsigned(std::atoi(argv[1])), count = unsigned(std::atoi(argv[2]));
  std::printf("[");
  for (unsigned seed = first; seed < first + count; ++seed) {
    std::mt19937 random(seed);
    const int nx = 2 + int(6 * skewback::sample::share(random)),
              ny = 2 + int(6 * skewback::sample::share(random));
    const skewback::Net net = skewback::sample::shaken_grid(nx, ny, 0.3, true, random);
    const auto load = skewback::sample::random_loads(net, random);
    const auto best = skewback::least_load_path(net, load);
    if (!best) {
      std::fprintf(stderr, "seed %u: %s\n", seed,
                   skewback::describe(best.faults().front()).c_str());
      return 1;
    }
    if (seed != first) std::printf(",\n");
    write(seed, net, load, *best);
  }
  std::printf("]\n");
  return 0;
}
