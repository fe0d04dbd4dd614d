#include "motion/collapse.hpp"

#include <gtest/gtest.h>

#include "base/constants.hpp"
#include "motion/sample_block.hpp"

namespace skewback {
namespace {

/// Pushed along x by a factor on its weight.
Assembly pushed_block(double b, double friction) {
  Assembly assembly = sample::block_on_ground(b, friction);
  LoadCase load;
  load.id = "pushed";
  load.gravity = {0, 0, -kGravity};
  load.live_acceleration = {kGravity, 0, 0};
  assembly.cases.push_back(load);
  return assembly;
}

// Closed form (checks by hand): it slides at the coefficient of friction or tips at b/h, whichever
// is less.
TEST(CollapseLoad, ABlockSlidesOrTips) {
  for (const auto& [friction, expected] : {std::pair{0.3, 0.3}, {0.6, 0.4}}) {
    const Assembly block = pushed_block(0.4, friction);
    const Collapse c = collapse_load(block, block.cases[0]);
    ASSERT_TRUE(c.found()) << in_words(c);
    EXPECT_LE(*c.held, expected * 1.0005) << in_words(c);
    EXPECT_GE(*c.moved_off, expected * 0.99) << in_words(c);
    EXPECT_LE(*c.moved_off - *c.held, 0.0051);
    EXPECT_EQ(c.last_held.ending, Ending::kAtRest);
    EXPECT_EQ(c.falling.ending, Ending::kMovingOff);
    EXPECT_EQ(c.falling.turned_max_rad > 0.1, friction > 0.4);  // tips, or slides flat
    RecordProperty("factor_" + std::to_string(friction), in_words(c));
  }
}

TEST(CollapseLoad, AtLeastWhereTheMostTriedHolds) {
  const Assembly block = pushed_block(0.4, 0.3);
  CollapseOptions wanted;
  wanted.most = 0.2;
  const Collapse c = collapse_load(block, block.cases[0], {}, {}, wanted);
  EXPECT_TRUE(c.at_least);
  EXPECT_EQ(c.held, 0.2);
  EXPECT_FALSE(c.moved_off);
  EXPECT_NE(in_words(c).find("most"), std::string::npos);
}

TEST(CollapseLoad, WeightAloneThatFalls) {
  Assembly block = pushed_block(0.4, 0.3);
  block.cases[0].gravity = kGravity * Vec3(0.6, 0, -0.8);  // steeper than the friction
  const Collapse c = collapse_load(block, block.cases[0]);
  EXPECT_FALSE(c.held);
  EXPECT_EQ(c.moved_off, 0.0);
  EXPECT_FALSE(c.found());
}

TEST(CollapseLoad, NotSettledIsKeptApart) {
  const Assembly block = pushed_block(0.4, 0.3);
  MotionOptions hurried;
  hurried.steps_most = 3;
  const Collapse c = collapse_load(block, block.cases[0], {}, hurried);
  EXPECT_FALSE(c.held);
  EXPECT_FALSE(c.moved_off);
  EXPECT_EQ(c.not_settled, 0.0);
  EXPECT_NE(in_words(c).find("did not settle"), std::string::npos);
}

}  // namespace
}  // namespace skewback
