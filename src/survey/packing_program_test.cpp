// The packing program against Clp (COIN-OR) on the same program, and against trying every choice of
// packed joints.
#include "survey/packing_program.hpp"

#include <gtest/gtest.h>

#include <random>

#include "assembly/sample_arch.hpp"
#include "assembly/sample_tripod.hpp"
#include "survey/sample_packing.hpp"

namespace skewback {
namespace {

AsMade errors(const Assembly& assembly, std::size_t supports, double size, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::uniform_real_distribution<double> any(-size, size);
  AsMade made = sample::drawn_beds(assembly, supports);
  for (Rigid& X : made.supports)
    X = rigid({{any(random), any(random), any(random)}, {0, 0, 0.1 * any(random)}}, Vec3::Zero());
  for (double& pad : made.pad_m) pad = 0.05 * any(random);
  for (BedError& bed : made.on_a)
    for (double& corner : bed.corner_m) corner = 0.05 * any(random);
  return made;
}

PackingRequest small_give() {
  PackingRequest request;
  request.slack_m = request.squeeze_m = 1e-4;
  request.step_m = 1e-3;
  return request;
}

TEST(PackingProgram, AgreesWithTheSimplexMethod) {
  const Assembly tripod = sample::tripod_assembly({});
  const StackModel model(tripod);
  for (std::uint64_t seed = 1; seed <= 8; ++seed) {
    const AsMade made = errors(tripod, 3, 0.012, seed);
    const PackProgram program = pack_program(model, made, small_give(), seed % 2 == 0);
    const PackSolution ours = solve_packing(program, footing_moves(model, made));
    ASSERT_TRUE(ours.converged) << seed;
    const LpSummary other = solve(sample::plain_program(program));
    ASSERT_EQ(other.status, SolveStatus::kOptimal) << seed << " " << other.reason;
    EXPECT_NEAR(1e3 * ours.objective_m, other.objective, 1e-7 * (1 + other.objective)) << seed;
    EXPECT_NEAR(1e3 * ours.bound_m, other.objective, 1e-7 * (1 + other.objective)) << seed;
  }
}

/// Which joints are packed: with a joint's packers forbidden for all but a set, the sum is the
/// least over all sets; tried for every set of the six joints of a five-voussoir arch.
TEST(PackingProgram, IsTheLeastOverAllSetsOfPackedJoints) {
  const Assembly arch = sample::arch_assembly({.voussoirs = 5});
  const StackModel model(arch);
  for (std::uint64_t seed = 1; seed <= 1; ++seed) {
    const AsMade made = errors(arch, 2, 0.006, seed);
    const PackProgram program = pack_program(model, made, small_give(), false);
    double least = 1e300;
    std::vector<int> best;
    for (unsigned set = 0; set < 64; ++set) {
      LinearProgram lp = sample::plain_program(program);
      for (int j = 0; j < 6; ++j)
        if ((set >> j & 1u) == 0) lp.upper[6 * 5 + 3 * j] = 0;
      const LpSummary one = solve(lp);
      if (one.status != SolveStatus::kOptimal || one.objective >= least - 1e-9) continue;
      least = one.objective;
      best.clear();
      for (int j = 0; j < 6; ++j)
        if (one.x[6 * 5 + 3 * j] > 1e-5) best.push_back(j);
    }
    const PackSolution ours = solve_packing(program, footing_moves(model, made));
    EXPECT_NEAR(1e3 * ours.objective_m, least, 1e-7 * (1 + least)) << seed;
    std::vector<int> packed;
    for (int j = 0; j < 6; ++j)
      if (ours.tau_m[static_cast<std::size_t>(3 * j)] > 1e-8) packed.push_back(j);
    EXPECT_EQ(packed, best) << seed;
  }
}

TEST(PackingProgram, FarStartsEndAtTheSameSum) {
  const Assembly tripod = sample::tripod_assembly({});
  const StackModel model(tripod);
  const AsMade made = errors(tripod, 3, 0.012, 3);
  const PackProgram program = pack_program(model, made, small_give(), true);
  const std::vector<SmallMove> footings = footing_moves(model, made);
  const PackSolution one = solve_packing(program, footings);
  std::vector<SmallMove> far = footings;
  for (std::size_t i = 0; i < far.size(); ++i)
    if (!tripod.blocks[i].fixed) far[i].shift = {0.3, -0.2 * static_cast<double>(i), 0.1};
  const PackSolution two = solve_packing(program, far);
  ASSERT_TRUE(two.converged);
  EXPECT_NEAR(one.objective_m, two.objective_m, 1e-10);
  for (std::size_t h = 0; h < one.tau_m.size(); ++h)
    EXPECT_NEAR(one.tau_m[h], two.tau_m[h], 1e-8) << h;
}

}  // namespace
}  // namespace skewback
