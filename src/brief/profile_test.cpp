#include "brief/profile.hpp"

#include <gtest/gtest.h>

#include "base/constants.hpp"

namespace skewback {
namespace {

Walkway sloping() {
  Walkway walkway;
  walkway.surface = {{{0, 0, 1}, {4, 0, 3}}};
  walkway.fill_density = 1600;
  return walkway;
}

TEST(Profile, HeightIsThatOfTheNearestPlaceOnTheLine) {
  EXPECT_FALSE(walking_height_m({}, {0, 0}));
  EXPECT_DOUBLE_EQ(*walking_height_m(sloping(), {1, 0.7}), 1.5);
  EXPECT_DOUBLE_EQ(*walking_height_m(sloping(), {9, 0}), 3);
}

// by hand: 1600 kg/m3 x 0.5 m of fill
TEST(Profile, FillWeighsByItsDepth) {
  EXPECT_DOUBLE_EQ(fill_pressure_pa(sloping(), {2, 0}, 1.5), 1600 * kGravity * 0.5);
  EXPECT_EQ(fill_pressure_pa(sloping(), {2, 0}, 2.5), 0);
}

}  // namespace
}  // namespace skewback
