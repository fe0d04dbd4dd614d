#include <gtest/gtest.h>

#include <algorithm>

#include "assembly/assembly.hpp"
#include "base/parallel.hpp"

namespace skewback {
namespace {

// A pile of nx x ny x nz cubes has (nx - 1) ny nz + nx (ny - 1) nz + nx ny (nz - 1) joints.
TEST(DetectJoints, AllOfAPileInOrderForAnyNumberOfThreads) {
  constexpr int kX = 7, kY = 5, kZ = 3;
  std::vector<Block> blocks;
  for (int i = 0; i < kX * kY * kZ; ++i) {
    const int at = 37 * i % (kX * kY * kZ);  // names go across the pile, not along it
    const Vec3 low(at % kX, at / kX % kY, at / (kX * kY));
    Block block;
    block.id = "b" + std::to_string(i);
    block.solid = box(low, low + Vec3(1, 1, 1));
    blocks.push_back(std::move(block));
  }
  std::vector<std::pair<int, int>> first;
  for (const int jobs : {1, 2, 5}) {
    const JobLimit limit(jobs);
    std::vector<std::pair<int, int>> pairs;
    for (const Joint& joint : detect_joints(blocks, 0.6)) pairs.emplace_back(joint.a, joint.b);
    EXPECT_EQ(pairs.size(),
              std::size_t((kX - 1) * kY * kZ + kX * (kY - 1) * kZ + kX * kY * (kZ - 1)));
    EXPECT_TRUE(std::ranges::is_sorted(pairs));
    if (first.empty()) first = pairs;
    EXPECT_EQ(pairs, first);
  }
}

}  // namespace
}  // namespace skewback
