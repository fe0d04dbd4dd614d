#include "ground/stretch.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "base/constants.hpp"

namespace skewback {
namespace {

// By hand: 100 kN on 11 m of 30 mm rod (706.86 mm2, E 210 GPa): 7.410 mm; 30 K at 12e-6: 3.960 mm;
// held back, those 30 K pull 53.44 kN.
TEST(Stretch, OneRod) {
  const std::vector<Rod> rods = {{0, 0, 1, {0, 0}, {11, 0}}};
  EXPECT_NEAR(elongations(rods, {100e3}, {0.030}, 0)[0] * 1e3, 7.410, 5e-4);
  EXPECT_NEAR(elongations(rods, {0}, {0.030}, 30)[0] * 1e3, 3.960, 1e-9);
  EXPECT_NEAR(elongations(rods, {-53.44e3}, {0.030}, 30)[0] * 1e3, 0, 5e-4);
}

TEST(Stretch, TwoFeetShareIt) {
  const std::vector<Rod> rods = {{0, 0, 1, {0, -0.5}, {11, -0.5}}, {0, 0, 1, {0, 0.5}, {11, 0.5}}};
  const auto moved = feet_moved({{0, 0}, {11, 0}}, rods, {0.006, 0.006}, {1, 1});
  EXPECT_NEAR(moved[0].shift_m.x(), -0.003, 1e-12);
  EXPECT_NEAR(moved[1].shift_m.x(), 0.003, 1e-12);
  EXPECT_NEAR(moved[0].turn_rad, 0, 1e-12);
  // one rod longer than the other: the feet turn against each other by the difference over 1 m
  const auto turned = feet_moved({{0, 0}, {11, 0}}, rods, {0.004, 0.006}, {1, 1});
  EXPECT_NEAR(turned[0].turn_rad - turned[1].turn_rad, 0.002, 1e-12);
}

// Three feet on a circle of radius R, each of the three ties between them longer by e: by symmetry
// each foot goes out by r with sides growing sqrt(3) r.
TEST(Stretch, TripodOpensEvenly) {
  std::vector<Vec2> feet;
  for (int i = 0; i < 3; ++i)
    feet.emplace_back(4 * std::cos(2 * kPi * i / 3), 4 * std::sin(2 * kPi * i / 3));
  std::vector<Rod> rods;
  for (int i = 0; i < 3; ++i) rods.push_back({i, i, (i + 1) % 3, feet[i], feet[(i + 1) % 3]});
  const auto moved = feet_moved(feet, rods, {0.003, 0.003, 0.003}, {1, 1, 1});
  for (int i = 0; i < 3; ++i) {
    EXPECT_NEAR(moved[i].shift_m.dot(feet[i]) / 4, 0.003 / std::sqrt(3.0), 1e-12);
    EXPECT_NEAR(moved[i].turn_rad, 0, 1e-12);
  }
}

TEST(Stretch, SlackRodsMoveNothing) {
  const std::vector<Rod> rods = {{0, 0, 1, {0, 0}, {11, 0}}};
  EXPECT_EQ(feet_moved({{0, 0}, {11, 0}}, rods, {0.006}, {0})[1].shift_m.norm(), 0);
}

}  // namespace
}  // namespace skewback
