#include "motion/reach.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "assembly/sample_arch.hpp"
#include "base/constants.hpp"
#include "base/parallel.hpp"
#include "motion/sample_block.hpp"

namespace skewback {
namespace {

Assembly block_on_a_slab(double b, double friction) {
  Assembly assembly = sample::block_on_ground(b, friction);
  assembly.cases.emplace_back().id = "dead";
  return assembly;
}

const MotionReach& find(const MotionReaches& all, const std::string& way) {
  for (const MotionReach& r : all.ways)
    if (r.way == way) return r;
  ADD_FAILURE() << "no way " << way;
  return all.ways.front();
}

// Closed form: on a slab that is turned about a level axis a block slides at tan = friction or tips
// at tan = b / h. Nothing pushes sideways, so outward is east, and the axis left is north: b across
// it. About outward the block is 1 m across.
TEST(MotionReach, ATurnedSlabLetsItsBlockSlideOrTip) {
  for (const auto& [friction, about_left, about_outward] :
       {std::tuple{0.3, 0.3, 0.3}, {0.6, 0.4, 0.6}}) {
    const Assembly assembly = block_on_a_slab(0.4, friction);
    MotionReachOptions wanted;
    wanted.turn_most_rad = 0.7;
    wanted.shift_most_m = 0.05;
    wanted.near = 0.01;
    const MotionReaches all = motion_reach(assembly, assembly.cases[0], {}, {}, wanted);
    ASSERT_EQ(all.ways.size(), 12U);
    for (const auto& [axis, slope] : {std::pair{"left", about_left}, {"outward", about_outward}}) {
      for (const char* sign : {"+", "-"}) {
        const MotionReach& way = find(all, std::string("turned ") + sign + " about " + axis);
        ASSERT_TRUE(way.moved_off) << way.way;
        EXPECT_FALSE(way.not_settled) << way.way;
        EXPECT_EQ(way.falling_block, 1);
        EXPECT_LE(way.held, 1.001 * std::atan(slope)) << way.way;
        EXPECT_GE(*way.moved_off, 0.995 * std::atan(slope)) << way.way;
        EXPECT_LE(*way.moved_off, 1.015 * std::atan(slope)) << way.way;
      }
    }
    for (const char* way : {"outward", "inward", "left", "right", "up", "down", "turned + about up",
                            "turned - about up"}) {
      EXPECT_TRUE(find(all, way).beyond) << way;  // the block goes with its slab
      EXPECT_FALSE(find(all, way).moved_off) << way;
    }
    EXPECT_EQ(find(all, "down").held, 0.05);
  }
}

TEST(MotionReach, AnArchPushesOutwardAndBearingsGoRound) {
  const Assembly arch = sample::arch_assembly({});
  MotionReachOptions wanted;
  wanted.shift_most_m = 0.01;
  wanted.bearings = 4;
  wanted.turn_most_rad = 1e-3;
  wanted.slow = 0.05;
  const MotionReaches all = motion_reach(arch, arch.cases[0], {}, {}, wanted);
  ASSERT_EQ(all.ways.size(), 32U);
  for (const MotionReach& way : all.ways) {
    EXPECT_TRUE(way.beyond) << way.way;
    ASSERT_GE(way.path.size(), 2U);
    EXPECT_EQ(way.path.back().gone, way.held);
  }
  // blocks 7 and 8 are the ground, west and east
  EXPECT_LT(all.ways[0].unit.shift.x(), -0.999);
  EXPECT_GT(all.ways[16].unit.shift.x(), 0.999);
  EXPECT_NEAR(all.ways[13].unit.shift.y(), 1, 1e-12);
  EXPECT_EQ(all.ways[13].way, "bearing 90");
  // outward first lets the thrust fall to the least, inward lets it rise
  EXPECT_LT(all.ways[0].path.back().thrust_n, all.ways[0].path.front().thrust_n);
  EXPECT_GT(all.ways[1].path.back().thrust_n, all.ways[1].path.front().thrust_n);
  // west is what outward is for the west footing
  EXPECT_EQ(all.ways[14].way, "bearing 180");
  EXPECT_NEAR(all.ways[14].path.back().thrust_n, all.ways[0].path.back().thrust_n,
              1e-3 * all.ways[0].path.back().thrust_n);
}

TEST(MotionReach, TheSameForAnyNumberOfThreads) {
  const Assembly arch = sample::arch_assembly({});
  MotionReachOptions wanted;
  wanted.ways = false;
  wanted.bearings = 4;
  wanted.shift_most_m = 0.02;
  wanted.slow = 0.05;
  const auto run = [&](int threads) {
    const JobLimit limit(threads);
    return motion_reach(arch, arch.cases[0], {}, {}, wanted);
  };
  const MotionReaches one = run(1), three = run(3);
  ASSERT_EQ(one.ways.size(), three.ways.size());
  for (std::size_t i = 0; i < one.ways.size(); ++i) {
    EXPECT_EQ(one.ways[i].held, three.ways[i].held);
    EXPECT_EQ(one.ways[i].path.back().thrust_n, three.ways[i].path.back().thrust_n);
  }
}

TEST(MotionReach, WhatDoesNotStandHasNoWays) {
  sample::Arch shape;
  shape.thickness = 0.25;
  shape.voussoirs = 20;
  const Assembly arch = sample::arch_assembly(shape);
  const MotionReaches all = motion_reach(arch, arch.cases[0]);
  EXPECT_EQ(all.start.ending, Ending::kMovingOff);
  EXPECT_TRUE(all.ways.empty());
}

}  // namespace
}  // namespace skewback
