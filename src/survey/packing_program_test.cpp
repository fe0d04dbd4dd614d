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
  AsMade made = as_drawn(assembly, supports);
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

/// By hand: 3 mm of packers in place let the bed open, and keep it open, 3 mm further; `most` is of
/// all packers there.
TEST(PackingProgram, PackersInPlaceCountTowardsTheMost) {
  const Assembly arch = sample::arch_assembly({.voussoirs = 3});
  const StackModel model(arch);
  const AsMade made = as_drawn(arch, 2);
  std::vector<std::array<double, 4>> held(arch.joints.size());
  held[1].fill(0.003);
  PackingRequest request;
  request.slack_m = request.squeeze_m = 5e-4;
  request.most_m = 0.025;
  const PackProgram bare = pack_program(model, made, request, false),
                    packed = pack_program(model, made, request, false, held);
  const std::size_t h = 3;  // hinges of joint 1: packers, tight, steps
  for (std::size_t k = 0; k < 4; ++k) {
    EXPECT_NEAR(bare.hinges[h].most[k], 0.5, 1e-12);  // mm: slack
    EXPECT_NEAR(packed.hinges[h].most[k], 3.5, 1e-12);
    EXPECT_NEAR(bare.hinges[h + 1].most[2 * k], 0.5, 1e-12);  // squeeze
    EXPECT_NEAR(packed.hinges[h + 1].most[2 * k], 0.5 - 3, 1e-12);
    EXPECT_NEAR(bare.hinges[h + 1].most[2 * k + 1], 25.5, 1e-12);  // most and slack
    EXPECT_NEAR(packed.hinges[h + 1].most[2 * k + 1], 25.5, 1e-12);
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
