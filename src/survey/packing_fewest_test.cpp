// The fewest packers against trying every choice of edges, and the least choice under cuts against
// trying all of them.
#include "survey/packing_fewest.hpp"

#include <gtest/gtest.h>

#include <random>

#include "assembly/sample_arch.hpp"
#include "survey/packing_beds.hpp"
#include "survey/sample_packing.hpp"

namespace skewback {
namespace {

PackingRequest small_give() {
  PackingRequest request;
  request.slack_m = request.squeeze_m = 1e-4;
  request.step_m = 1e-3;
  return request;
}

bool holds(const PackProgram& program, const PackSolution& found) {
  for (std::size_t h = 0; h < program.hinges.size(); ++h)
    if (program.hinges[h].kind != HingeKind::kPackers && found.tau_m[h] > kLieNear_m) return false;
  return found.converged;
}

int places_on(const StackModel& model, const PackingRequest& request, std::size_t joint,
              bool upper) {
  int out = 0;
  for (const PackerPlace& place : packer_places(model.corners()[joint], request))
    out += place.upper == upper ? 1 : 0;
  return out;
}

TEST(FewestEdges, AsFewAsTheBestOfAllChoices) {
  const Assembly arch = sample::arch_assembly({.voussoirs = 3, .radius = 3, .width = 2});
  const StackModel model(arch);
  const PackingRequest request = small_give();
  const std::size_t joints = arch.joints.size();
  std::mt19937_64 random(5);
  int opened = 0;
  for (int round = 0; round < 12; ++round) {
    const AsMade made = sample::footings_off(arch, 0.010, 0.004, random);
    const std::vector<SmallMove> from = footing_moves(model, made);
    const PackProgram all = pack_program(model, made, request, false);
    const PackSolution first = solve_packing(all, from);
    if (!holds(all, first)) continue;
    int least = 1000;
    for (unsigned choice = 0; choice < 1u << (2 * joints); ++choice) {
      EdgesOpen open(joints);
      int places = 0;
      for (std::size_t e = 0; e < 2 * joints; ++e) {
        open[e / 2][e % 2] = static_cast<char>(choice >> e & 1u);
        if (open[e / 2][e % 2] != 0) places += places_on(model, request, e / 2, e % 2 == 1);
      }
      if (places >= least) continue;
      const PackProgram program = pack_program(model, made, request, false, {}, open);
      if (holds(program, solve_packing(program, from))) least = places;
    }
    const Fewest found = fewest_edges(model, made, request, first, 400);
    ASSERT_FALSE(found.open.empty());
    EXPECT_EQ(found.places, least) << round;
    EXPECT_EQ(found.bound, least) << round;
    EXPECT_TRUE(holds(found.program, found.found));
    opened += found.places > 0 ? 1 : 0;
  }
  EXPECT_GT(opened, 4);
}

// Stopped early the bound is still one, and the packing still holds.
TEST(FewestEdges, TheBoundHoldsWhenStopped) {
  const Assembly arch = sample::arch_assembly({.voussoirs = 5, .radius = 3, .width = 2});
  const StackModel model(arch);
  const PackingRequest request = small_give();
  std::mt19937_64 random(9);
  const AsMade made = sample::footings_off(arch, 0.010, 0.004, random);
  const PackProgram all = pack_program(model, made, request, false);
  const PackSolution first = solve_packing(all, footing_moves(model, made));
  ASSERT_TRUE(holds(all, first));
  const Fewest whole = fewest_edges(model, made, request, first, 1000);
  ASSERT_TRUE(whole.proven());
  for (const int programs : {1, 4, 10, 20}) {
    const Fewest found = fewest_edges(model, made, request, first, programs);
    EXPECT_LE(found.bound, whole.places);
    EXPECT_GE(found.places, whole.places);
    EXPECT_TRUE(holds(found.program, found.found));
  }
}

TEST(LeastChoice, AgreesWithTryingAll) {
  std::mt19937_64 random(2);
  std::uniform_real_distribution<double> any(0, 1);
  for (int round = 0; round < 60; ++round) {
    const std::size_t edges = 10;
    std::vector<int> cost;
    for (std::size_t e = 0; e < edges; ++e) cost.push_back(1 + static_cast<int>(6 * any(random)));
    std::vector<EdgeCut> cuts(4);
    for (EdgeCut& cut : cuts)
      for (std::size_t e = 0; e < edges; ++e)
        cut.share.push_back(any(random) < 0.4 ? 0 : any(random) * any(random));
    int least = 1000;
    for (unsigned choice = 0; choice < 1u << edges; ++choice) {
      int sum = 0;
      std::vector<double> kept(cuts.size(), 0);
      for (std::size_t e = 0; e < edges; ++e) {
        if ((choice >> e & 1u) == 0) continue;
        sum += cost[e];
        for (std::size_t c = 0; c < cuts.size(); ++c) kept[c] += cuts[c].share[e];
      }
      if (std::ranges::all_of(kept, [](double k) { return k >= 1 - 1e-9; }))
        least = std::min(least, sum);
    }
    const LeastChoice found = least_choice(cost, cuts, 0, 100, 1000000);
    if (least == 1000) {
      EXPECT_FALSE(found.choice.has_value());
      continue;
    }
    EXPECT_EQ(found.cost, least) << round;
    ASSERT_TRUE(found.choice.has_value());
    int sum = 0;
    for (std::size_t e = 0; e < edges; ++e)
      if ((*found.choice)[e] != 0) sum += cost[e];
    EXPECT_LE(sum, least);
    const LeastChoice stopped = least_choice(cost, cuts, 0, 100, 3);
    EXPECT_LE(stopped.cost, least);
  }
}

}  // namespace
}  // namespace skewback
