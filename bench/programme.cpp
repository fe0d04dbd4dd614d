// The programme drawn many times: seconds for 100,000 draws of a network the size of a
// three-legged footbridge of 49 blocks, and how many plain passes over the network by mean times
// that is.
//   bench_programme [DRAWS [BLOCKS]]
#include <cstdio>
#include <cstdlib>

#include "base/timing.hpp"
#include "erect/draw.hpp"

namespace {

using namespace skewback;
constexpr double kDay = 86400;

int add(Network& network, const char* kind, double least, double likely, double most,
        std::vector<int> after) {
  Activity a;
  a.kind = kind;
  a.least_s = least, a.likely_s = likely, a.most_s = most;
  for (const int i : after) {
    if (i >= 0) a.after.push_back(i);
  }
  network.activities.push_back(std::move(a));
  return static_cast<int>(network.activities.size()) - 1;
}

/// Print, cure, journey and placing of each block, and six works beside.
Network bridge(int blocks, std::vector<Breakage>& breakages) {
  Network n;
  const int footings = add(n, "footings", 10 * kDay, 14 * kDay, 21 * kDay, {});
  const int cutting = add(n, "cutting", 3 * kDay, 5 * kDay, 8 * kDay, {});
  const int up = add(n, "centring", 2 * kDay, 3 * kDay, 5 * kDay, {footings, cutting});
  std::vector<int> arrived;
  int print = -1, place = up;
  for (int k = 0; k < blocks; ++k) {
    print = add(n, "print", 0.45 * kDay, 0.5 * kDay, 0.75 * kDay, {print});
    const int cure = add(n, "cure", 7 * kDay, 7 * kDay, 7 * kDay, {print});
    arrived.push_back(add(n, "journey", kDay, kDay, 2 * kDay, {cure}));
  }
  for (int k = 0; k < blocks; ++k) {
    place = add(n, "place", 2700, 3600, 8100, {place, arrived[static_cast<std::size_t>(k)]});
    breakages.push_back({place, 0.03, 9 * kDay, false, 3600});
  }
  const int down = add(n, "striking", kDay, kDay, 3 * kDay, {place});
  add(n, "walkway", 2 * kDay, 3 * kDay, 5 * kDay, {down});
  return n;
}

}  // namespace

int main(int argc, char** argv) {
  const int draws = argc > 1 ? std::atoi(argv[1]) : 100000;
  const int blocks = argc > 2 ? std::atoi(argv[2]) : 49;
  std::vector<Breakage> breakages;
  const Network network = bridge(blocks, breakages);
  const PertResult plan = pert(network);
  Stopwatch watch;
  std::vector<double> finish;
  double sum = 0;
  for (int i = 0; i < draws; ++i) {
    earliest_finishes(network, plan.mean_s, {}, finish);
    sum += finish.back();
  }
  const double plain_s = watch.seconds();
  watch = Stopwatch();
  const Draws drawn = draw_programme(network, breakages, draws, 1);
  const double drawn_s = watch.seconds();
  std::printf(
      "%zu activities, %d draws: %.3f s; %d passes by mean times on one core: %.3f s (%.1f "
      "times)\n",
      network.activities.size(), draws, drawn_s, draws, plain_s, drawn_s / plain_s);
  std::printf("mean %.2f d by means, %.2f d drawn, nine in ten by %.2f d, %.2f broken\n",
              sum / draws / kDay, drawn.mean_s / kDay, drawn.at(0.9) / kDay, drawn.broken_mean);
  return 0;
}
