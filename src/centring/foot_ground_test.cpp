// Where a post of 0.1 m may stand. By hand: its corner is 0.0707 m from its middle, and it keeps
// one and a half widths from the middle of another.
#include "centring/foot_ground.hpp"

#include <gtest/gtest.h>

namespace skewback {
namespace {

TEST(FootGround, KeepsOffWaterAndOffFeetThatStand) {
  CentringRequest request;
  request.no_feet = {{{1, -1}, {2, -1}, {2, 1}, {1, 1}}};
  FootGround ground(request);
  EXPECT_FALSE(ground.barred({0.92, 0}));
  EXPECT_TRUE(ground.barred({0.94, 0}));
  EXPECT_TRUE(ground.allowed({0.1, 0}));
  ground.take({0, 0});
  EXPECT_FALSE(ground.allowed({0.14, 0}));
  EXPECT_TRUE(ground.allowed({0.16, 0}));
  const PlanLine line;
  ASSERT_TRUE(ground.next(line, 0, 0.01, 1));
  EXPECT_NEAR(*ground.next(line, 0, 0.01, 1), 0.15, 0.011);
  EXPECT_FALSE(ground.next(line, 1, 0.01, 0.9));
}

}  // namespace
}  // namespace skewback
