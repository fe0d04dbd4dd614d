#include "ground/footings.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "ground/nnls.hpp"
#include "ground/rods.hpp"
#include "ground/sizing.hpp"

namespace skewback {
namespace {

/// Two footings 9 m apart along x, two rods 1.2 m apart.
std::vector<Footing> pair_of_footings(double H) {
  return {{"west", {-4.5, 0}, {H, 0}, 0}, {"east", {4.5, 0}, {-H, 0}, 0}};
}
std::vector<Rod> pair_of_rods(double spacing = 1.2) {
  return {{0, 0, 1, {-4.5, -spacing / 2}, {4.5, -spacing / 2}},
          {0, 0, 1, {-4.5, spacing / 2}, {4.5, spacing / 2}}};
}

TEST(Rods, ShareTheThrustOfTwoFootings) {
  const FootingBalance state = balance(pair_of_footings(50e3), pair_of_rods(), 0);
  ASSERT_TRUE(state.balanced) << state.reason;
  EXPECT_NEAR(state.rod_force[0], 25e3, 1e-6);
  EXPECT_NEAR(state.rod_force[1], 25e3, 1e-6);
}

// Moments about the footing: F1 + F2 = H, (F1 - F2) s / 2 = M, so F = H / 2 +- M / s.
TEST(Rods, TakeYawByTheirLever) {
  std::vector<Footing> footings = pair_of_footings(50e3);
  footings[0].yaw = 6e3;
  footings[1].yaw = -6e3;
  const FootingBalance state = balance(footings, pair_of_rods(), 0);
  ASSERT_TRUE(state.balanced) << state.reason;
  // The rod at y = -0.6 pulls west's footing along +x below its middle: that turns it by +0.6 F.
  EXPECT_NEAR(state.rod_force[0], 25e3 + 6e3 / 1.2, 1e-6);
  EXPECT_NEAR(state.rod_force[1], 25e3 - 6e3 / 1.2, 1e-6);
}

TEST(Rods, NeverPush) {
  std::vector<Footing> footings = pair_of_footings(50e3);
  footings[0].yaw = 40e3;  // would need H/2 - M/s = -8.3 kN
  footings[1].yaw = -40e3;
  const FootingBalance state = balance(footings, pair_of_rods(), 0);
  EXPECT_FALSE(state.balanced);
  for (const double f : state.rod_force) EXPECT_GE(f, 0);
  EXPECT_NE(state.reason.find("yaw moment"), std::string::npos) << state.reason;
  EXPECT_NE(state.reason.find("1.20 m"), std::string::npos) << state.reason;
  // A wider pair carries it.
  EXPECT_TRUE(balance(footings, pair_of_rods(2.0), 0).balanced);
}

TEST(Rods, FootingsPushedTogetherAreNotHeld) {
  const FootingBalance state = balance(pair_of_footings(-10e3), pair_of_rods(), 0);
  EXPECT_FALSE(state.balanced);
  EXPECT_NEAR(state.rod_force[0] + state.rod_force[1], 0, 1e-6);
}

// Statics of a triangle of ties by hand. Footings at distance r from the middle, 120 degrees apart,
// thrust H outwards each: 2 T cos 30 = H.
TEST(Rods, TriangleOfTies) {
  std::vector<Footing> footings;
  std::vector<Rod> rods;
  for (int i = 0; i < 3; ++i) {
    const double t = i * 2 * std::acos(-1.0) / 3;
    const Vec2 out(std::cos(t), std::sin(t));
    footings.push_back({"f" + std::to_string(i), 6 * out, -90e3 * out, 0});
  }
  for (int i = 0; i < 3; ++i) {
    const int j = (i + 1) % 3;
    const Vec2 along = (footings[j].point - footings[i].point).normalized();
    const Vec2 across(-along.y(), along.x());
    for (const double shift : {-0.6, 0.6}) {
      rods.push_back(
          {i, i, j, footings[i].point + shift * across, footings[j].point + shift * across});
    }
  }
  const FootingBalance state = balance(footings, rods, 0);
  ASSERT_TRUE(state.balanced) << state.reason;
  for (const double f : state.rod_force)
    EXPECT_NEAR(2 * f, 90e3 / (2 * std::cos(std::acos(-1.0) / 6)), 1e-5);

  // Parallel pairs let all footings turn alike: the sum of the yaw moments stays without a taker.
  for (Footing& footing : footings) footing.yaw = 1e3;
  const FootingBalance turned = balance(footings, rods, 0);
  EXPECT_FALSE(turned.balanced);
  EXPECT_NE(turned.reason.find("3.00 kN m"), std::string::npos) << turned.reason;
}

// Three rods between two footings in a row: elastic shares by hand. Rods at y = -1, 0, 1, equal
// lengths; force H and yaw M about the middle give H/3 - y M / 2.
TEST(Rods, SpareRodSharesElastically) {
  std::vector<Footing> footings = pair_of_footings(30e3);
  footings[0].yaw = 4e3;
  footings[1].yaw = -4e3;
  std::vector<Rod> rods;
  for (const double y : {-1.0, 0.0, 1.0}) rods.push_back({0, 0, 1, {-4.5, y}, {4.5, y}});
  const FootingBalance state = balance(footings, rods, 0);
  ASSERT_TRUE(state.balanced);
  EXPECT_NEAR(state.rod_force[0], 12e3, 1e-6);
  EXPECT_NEAR(state.rod_force[1], 10e3, 1e-6);
  EXPECT_NEAR(state.rod_force[2], 8e3, 1e-6);
}

TEST(Rods, GroundShearTakesWhatRodsCannot) {
  std::vector<Footing> footings = pair_of_footings(50e3);
  footings[0].force.y() = 2e3;  // along the springing: no rod pulls that way
  footings[0].yaw = 0;
  footings[1].force.y() = -2e3;
  EXPECT_FALSE(balance(footings, pair_of_rods(), 0).balanced);
  const FootingBalance held = balance(footings, pair_of_rods(), 3e3);
  ASSERT_TRUE(held.balanced) << held.reason;
  EXPECT_NEAR(held.shear[0].y(), 2e3, 1e-3);
  const FootingBalance weak = balance(footings, pair_of_rods(), 1e3);
  EXPECT_FALSE(weak.balanced);
  EXPECT_NE(weak.reason.find("2.00 kN"), std::string::npos) << weak.reason;
}

/// Two feet without rods that carry 60 kN each, push apart with 44.4 kN and turn the same way.
std::vector<SupportReaction> without_rods(double yaw) {
  return {{"west", {-4.5, 0, 0}, {44.4e3, 0, 60e3}, {0, 0, yaw}, 44.4e3},
          {"east", {4.5, 0, 0}, {-44.4e3, 0, 60e3}, {0, 0, yaw}, 44.4e3}};
}

// 0.5 % of 60 kN on a lever of 1 m: 0.30 kN m of yaw are a trifle beside ground shear too.
TEST(Rods, ATrifleOfYawIsLeftToTheGroundThatHasTheShear) {
  const FootingBalance held = hold_in_plan(without_rods(0.29e3), {}, 45e3);
  EXPECT_TRUE(held.balanced) << held.reason;
  EXPECT_NEAR(held.shear.at(0).x(), 44.4e3, 1e-3);
  EXPECT_NEAR(held.missing.at(1).z(), 0.29e3, 1e-3);
  const FootingBalance turns = hold_in_plan(without_rods(0.31e3), {}, 45e3);
  EXPECT_FALSE(turns.balanced);
  EXPECT_NE(turns.reason.find("0.31 kN m"), std::string::npos) << turns.reason;
  EXPECT_NE(turns.reason.find("no rods"), std::string::npos) << turns.reason;
  EXPECT_EQ(turns.reason.find("lever"), std::string::npos) << turns.reason;
  EXPECT_EQ(turns.reason.find("parallel"), std::string::npos) << turns.reason;
}

// 44.4 kN are more than 40, whatever the yaw: that comes first, a trifle of yaw not at all.
TEST(Rods, WantOfShearIsSaidBeforeYaw) {
  for (const double yaw : {0.0, 0.06e3, 4.2e3}) {
    const FootingBalance weak = hold_in_plan(without_rods(yaw), {}, 40e3);
    EXPECT_FALSE(weak.balanced);
    EXPECT_EQ(weak.reason.find("footing west needs 44.40 kN of shear on the ground and may count "
                               "on 40.00 kN"),
              0U)
        << weak.reason;
    EXPECT_EQ(weak.reason.find("yaw") != std::string::npos, yaw > 1e3) << weak.reason;
  }
}

// Worked by hand: the unconstrained answer of min |(x1 - 1, x1 + x2 - 0)| is (1, -1); with x >= 0
// the best is x2 = 0 and x1 = 1/2.
TEST(Nnls, HandExample) {
  Eigen::MatrixXd A(2, 2);
  A << 1, 0, 1, 1;
  const Eigen::VectorXd x = nnls(A, Eigen::Vector2d(1, 0));
  EXPECT_NEAR(x[0], 0.5, 1e-14);
  EXPECT_EQ(x[1], 0);
}

// Optimality conditions on many random problems: x >= 0, gradient <= 0, complementary.
TEST(Nnls, OptimalityConditions) {
  std::srand(7);
  for (int trial = 0; trial < 200; ++trial) {
    const Eigen::MatrixXd A = Eigen::MatrixXd::Random(9, 6);
    const Eigen::VectorXd b = Eigen::VectorXd::Random(9);
    const Eigen::VectorXd x = nnls(A, b), gradient = A.transpose() * (b - A * x);
    for (int j = 0; j < 6; ++j) {
      EXPECT_GE(x[j], 0);
      EXPECT_LE(gradient[j], 1e-10);
      EXPECT_LE(std::abs(x[j] * gradient[j]), 1e-10);
    }
  }
}

// Worked example, EN 1993-1-1 6.2.3 (from memory): shank of 30 mm, S355: 250.9 kN.
TEST(Sizing, Shank) { EXPECT_NEAR(shank_resistance(0.030, 355e6), 250.9e3, 0.05e3); }

}  // namespace
}  // namespace skewback
