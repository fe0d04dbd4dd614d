#include <gtest/gtest.h>

#include "base/parallel.hpp"
#include "stand/pads.hpp"

namespace skewback {
namespace {

/// A wall in running bond on a fixed base: wide enough that its joints are shared out to threads.
Assembly wall() {
  constexpr int kCourses = 18, kAcross = 14;
  Assembly assembly;
  const auto put = [&](double x0, double x1, int course) {
    Block block;
    block.id = "b" + std::to_string(assembly.blocks.size());
    block.density = 2000;
    block.fixed = course < 0;
    block.solid = box({x0, 0, 0.3 * course}, {x1, 0.3, 0.3 * (course + 1)});
    assembly.blocks.push_back(std::move(block));
  };
  put(0, kAcross, -1);
  for (int course = 0; course < kCourses; ++course) {
    const double shift = course % 2 == 0 ? 0 : 0.5;
    if (shift > 0) put(0, shift, course);
    for (int k = 0; k < kAcross; ++k)
      put(k + shift, std::min(k + 1 + shift, double(kAcross)), course);
  }
  assembly.joints = detect_joints(assembly.blocks, 0.3);
  measure(assembly);
  return assembly;
}

TEST(Pads, SameStateForAnyNumberOfThreads) {
  const Assembly assembly = wall();
  ASSERT_GT(assembly.joints.size(), 512u);
  LoadCase load{"push", {0, 0, -9.81}, {}, {0.5, 0, 0}};
  load.live.push_back({140, centre_of_gravity(assembly.blocks[140]), {0, 900, -300}});
  PadState first;
  for (const int jobs : {1, 2, 5}) {
    const JobLimit limit(jobs);
    const PadState state = pad_state(assembly, load);
    ASSERT_TRUE(state.found) << state.reason;
    EXPECT_FALSE(state.sticks);
    EXPECT_LT(state.residual_rel, 1e-8);
    EXPECT_LT(state.beyond_friction_rel, 1e-9);
    if (first.moves.empty()) {
      first = state;
      continue;
    }
    EXPECT_EQ(state.steps, first.steps);
    EXPECT_EQ(state.peak_pa, first.peak_pa);
    for (std::size_t i = 0; i < state.moves.size(); ++i) {
      EXPECT_EQ(state.moves[i].v, first.moves[i].v) << i;
      EXPECT_EQ(state.moves[i].w, first.moves[i].w) << i;
    }
  }
}

}  // namespace
}  // namespace skewback
