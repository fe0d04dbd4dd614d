// The service vehicle of 80 and 40 kN on a deck 10 m long: places and sums by hand.
#include "loads/vehicle.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "loads/loads.hpp"

namespace skewback {
namespace {

using testing::HasSubstr;
using testing::Not;

constexpr double kFactor = 1.35;

/// Five boxes side by side along x, half a metre high.
Assembly five_boxes(double wide) {
  Assembly assembly;
  for (int i = 0; i < 5; ++i) {
    Block block;
    block.id = "b" + std::to_string(i + 1);
    block.density = 2000;
    block.solid = box({2.0 * i, 0, 0}, {2.0 * (i + 1), wide, 0.5});
    assembly.blocks.push_back(std::move(block));
  }
  measure(assembly);
  return assembly;
}

Brief open_deck(double wide = 2) {
  Brief brief;
  brief.plan.outline = {{0, 0}, {10, 0}, {10, wide}, {0, wide}};
  brief.plan.supports = {{"west", {0, wide}, {0, 0}, 0}, {"east", {10, 0}, {10, wide}, 0}};
  brief.plan.free_edges = {{0, 1, {{0, 0}, {10, 0}}}, {1, 0, {{10, wide}, {0, wide}}}};
  brief.walkway.width_m = wide;
  brief.walkway.lines = {{{0, wide / 2}, {10, wide / 2}}};
  brief.loads.people_pa = 5e3;
  brief.loads.vehicle = true;
  return brief;
}

std::vector<LoadCase> with_vehicle(const LoadSet& set) {
  std::vector<LoadCase> out;
  for (const LoadCase& load : set.cases)
    if (load.id.starts_with("vehicle-")) out.push_back(load);
  return out;
}

struct Sum {
  Vec3 force = Vec3::Zero();
  double x = 0, y = 0;  // of the resultant of what presses down
};
Sum sum_of_vehicle(const LoadSet& set, const std::string& id) {
  Sum sum;
  const auto it = std::ranges::find(set.cases, id, &LoadCase::id);
  if (it == set.cases.end()) throw std::runtime_error("no case " + id);
  for (const LiveForce& f : it->live) {
    sum.force += f.force;
    sum.x += f.force.z() * f.point.x();
    sum.y += f.force.z() * f.point.y();
  }
  sum.x /= sum.force.z();
  sum.y /= sum.force.z();
  return sum;
}

// Axles half a wheel, 0.1 m, from the ends: at 0.1 and 3.1 m, then every (9.8 - 3) / 4 = 1.7 m to
// 6.9 and 9.9 m. With 80 kN in front the resultant is 1 m from there, turned round 2 m.
TEST(Vehicle, StandsAtFiveStopsFromEndToEnd) {
  const LoadSet set = load_cases(open_deck(), five_boxes(2));
  EXPECT_EQ(with_vehicle(set).size(), 20u);  // five stops, both ways round, pushing both ways
  EXPECT_TRUE(set.left_out.empty());
  for (int stop = 0; stop < 5; ++stop) {
    const std::string id = "vehicle-1-" + std::to_string(stop + 1);
    for (const auto& [way, from_first] : {std::pair("", 1.0), {"-back", 2.0}}) {
      const Sum sum = sum_of_vehicle(set, id + way + "-in");
      EXPECT_NEAR(sum.force.z(), -kFactor * 120e3, 1e-3) << id << way;
      EXPECT_NEAR(sum.x, 0.1 + 1.7 * stop + from_first, 1e-6) << id << way;
      EXPECT_NEAR(sum.y, 1, 1e-6) << id << way;
    }
  }
}

// 0.6 x 120 kN along the bridge, towards either end, whichever way the vehicle faces.
TEST(Vehicle, PushesBothWays) {
  const LoadSet set = load_cases(open_deck(), five_boxes(2));
  for (const std::string id : {"vehicle-1-2", "vehicle-1-2-back"}) {
    EXPECT_NEAR(sum_of_vehicle(set, id + "-in").force.x(), kFactor * 72e3, 1e-3);
    EXPECT_NEAR(sum_of_vehicle(set, id + "-out").force.x(), -kFactor * 72e3, 1e-3);
  }
}

// A bridge and its mirror image have the same loads, mirrored: what is pushed in from one end is
// pushed in from the other.
TEST(Vehicle, IsTheSameFromEitherEnd) {
  Brief brief = open_deck();
  const LoadSet set = load_cases(brief, five_boxes(2));
  std::ranges::reverse(brief.walkway.lines.front());
  const LoadSet mirrored = load_cases(brief, five_boxes(2));
  for (const LoadCase& load : with_vehicle(set)) {
    const Sum sum = sum_of_vehicle(set, load.id), other = sum_of_vehicle(mirrored, load.id);
    EXPECT_NEAR(other.x, 10 - sum.x, 1e-6) << load.id;
    EXPECT_NEAR(other.force.x(), -sum.force.x(), 1e-3) << load.id;
  }
}

// Springing lines at 45 degrees: 10 + y at one end, y at the other. The wheels are 0.65 m beside
// the line and 0.1 m half wide, so a corner 0.75 m beside it needs its axle 0.75 + 0.1 m in; that
// is met at the next 25 mm from 0.1 m on: 0.85 m.
TEST(Vehicle, KeepsItsWheelsOnASkewedDeck) {
  Brief brief = open_deck();
  brief.plan.outline = {{-1, 0}, {9, 0}, {11, 2}, {1, 2}};
  brief.plan.supports = {{"west", {1, 2}, {-1, 0}, 0}, {"east", {9, 0}, {11, 2}, 0}};
  brief.plan.free_edges = {{0, 1, {{-1, 0}, {9, 0}}}, {1, 0, {{11, 2}, {1, 2}}}};
  Assembly assembly;
  Block block;
  block.id = "slab";
  block.density = 2000;
  block.solid = box({-1, 0, 0}, {11, 2, 0.5});
  assembly.blocks.push_back(std::move(block));
  measure(assembly);
  const LoadSet set = load_cases(brief, assembly);
  EXPECT_TRUE(set.left_out.empty());
  EXPECT_NEAR(sum_of_vehicle(set, "vehicle-1-1-in").x, 0.85 + 1, 1e-6);
  EXPECT_NEAR(sum_of_vehicle(set, "vehicle-1-1-in").force.z(), -kFactor * 120e3, 1e-3);
}

/// Nine boxes 2 m square: ten metres along x, then eight along y from the far end.
Assembly round_a_corner() {
  Assembly assembly;
  for (int i = 0; i < 9; ++i) {
    const Vec3 low = i < 5 ? Vec3(2.0 * i, 0, 0) : Vec3(8, 2.0 * (i - 4), 0);
    Block block;
    block.id = "b" + std::to_string(i + 1);
    block.density = 2000;
    block.solid = box(low, low + Vec3(2, 2, 0.5));
    assembly.blocks.push_back(std::move(block));
  }
  measure(assembly);
  return assembly;
}

Brief bent_deck() {
  Brief brief = open_deck();
  brief.plan.outline = {{0, 0}, {10, 0}, {10, 10}, {8, 10}, {8, 2}, {0, 2}};
  brief.plan.supports = {{"west", {0, 2}, {0, 0}, 0}, {"north", {10, 10}, {8, 10}, 0}};
  brief.plan.free_edges = {{0, 1, {{0, 0}, {10, 0}, {10, 10}}}, {1, 0, {{8, 10}, {8, 2}, {0, 2}}}};
  brief.walkway.lines = {{{0, 1}, {9, 1}, {9, 10}}};
  return brief;
}

// The chord from end to end would leave the deck; on the line the first stop is wholly on the first
// leg, as far from its end as on a straight deck, and the last wholly on the second.
TEST(Vehicle, FollowsALineThatBends) {
  const LoadSet set = load_cases(bent_deck(), round_a_corner());
  const LoadSet straight = load_cases(open_deck(), five_boxes(2));
  const Sum first = sum_of_vehicle(set, "vehicle-1-1-in"),
            last = sum_of_vehicle(set, "vehicle-1-5-in");
  EXPECT_NEAR(first.x, sum_of_vehicle(straight, "vehicle-1-1-in").x, 1e-6);
  EXPECT_NEAR(first.force.x(), kFactor * 72e3, 1e-3);
  EXPECT_NEAR(first.force.y(), 0, 1e-3);
  EXPECT_NEAR(last.x, 9, 1e-6);
  EXPECT_NEAR(last.y, sum_of_vehicle(straight, "vehicle-1-5-in").x, 1e-6) << "both lines end at 10";
  EXPECT_NEAR(last.force.x(), 0, 1e-3);
  EXPECT_NEAR(last.force.y(), kFactor * 72e3, 1e-3);
  for (const LoadCase& load : with_vehicle(set))
    EXPECT_NEAR(sum_of_vehicle(set, load.id).force.z(), -kFactor * 120e3, 1e-3) << load.id;
}

// Of 36 m2 of deck the corner's four may go either way; each square metre pushes along its own leg.
TEST(PushAlong, FollowsALineThatBends) {
  Brief brief = bent_deck();
  brief.loads.vehicle = false;
  const LoadSet set = load_cases(brief, round_a_corner());
  const auto push = std::ranges::find(set.cases, "push-1-in", &LoadCase::id);
  ASSERT_NE(push, set.cases.end());
  Vec3 sum = Vec3::Zero();
  for (const LiveForce& f : push->live) sum += f.force;
  EXPECT_NEAR(sum.x() + sum.y(), -0.1 * sum.z(), 1e-6 * std::abs(sum.z()));
  EXPECT_GE(sum.x() / (sum.x() + sum.y()), 16.0 / 36 - 1e-9);
  EXPECT_LE(sum.x() / (sum.x() + sum.y()), 20.0 / 36 + 1e-9);
}

// Wheels 1.3 m apart and 0.2 m wide take 1.5 m.
TEST(Vehicle, IsToldWhereTheWalkIsTooNarrow) {
  Brief brief = open_deck();
  brief.walkway.width_m = 1.3;
  const LoadSet set = load_cases(brief, five_boxes(2));
  EXPECT_TRUE(with_vehicle(set).empty());
  ASSERT_EQ(set.left_out.size(), 1u);
  for (const char* stop : {"vehicle-1-1", "vehicle-1-2", "vehicle-1-3", "vehicle-1-4",
                           "vehicle-1-5", "1.30 m wide", "take 1.50 m"})
    EXPECT_THAT(set.left_out.front(), HasSubstr(stop));
  brief.walkway.width_m = 1.5;
  EXPECT_EQ(with_vehicle(load_cases(brief, five_boxes(2))).size(), 20u);
}

// 3.1 m of line less half a wheel at either end is 2.9 m, and the axles are 3 m apart.
TEST(Vehicle, IsToldWhereTheBridgeIsTooShort) {
  Brief brief = open_deck();
  brief.walkway.lines = {{{0, 1}, {3.1, 1}}};
  const LoadSet set = load_cases(brief, five_boxes(2));
  EXPECT_TRUE(with_vehicle(set).empty());
  ASSERT_EQ(set.left_out.size(), 1u);
  EXPECT_THAT(set.left_out.front(), HasSubstr("vehicle-1-5"));
  EXPECT_THAT(set.left_out.front(), HasSubstr("on 2.90 m of a walking line of 3.10 m"));
}

// Axles are at 0.1, 1.8, 3.5, 5.2, 6.9 m and 3 m further on; a hole from 4.6 to 5.4 m under one
// row of wheels is met by the second stop's 4.8 m and the fourth's 5.2 m.
TEST(Vehicle, NamesTheStopsThatAHoleTakes) {
  Brief brief = open_deck();
  brief.plan.openings = {{{4.6, 0.2}, {4.6, 0.5}, {5.4, 0.5}, {5.4, 0.2}}};
  const LoadSet set = load_cases(brief, five_boxes(2));
  EXPECT_EQ(with_vehicle(set).size(), 12u);
  ASSERT_EQ(set.left_out.size(), 1u);
  for (const char* says : {"vehicle-1-2", "vehicle-1-4", "(4.80, 0.35)", "(5.20, 0.35)"})
    EXPECT_THAT(set.left_out.front(), HasSubstr(says));
  for (const char* stop : {"vehicle-1-1", "vehicle-1-3", "vehicle-1-5"})
    EXPECT_THAT(set.left_out.front(), Not(HasSubstr(stop)));
}

TEST(Vehicle, NoneIsLeftOutWhereNoneIsAskedFor) {
  Brief brief = open_deck();
  brief.walkway.width_m = 1.3;
  brief.loads.vehicle = false;
  EXPECT_TRUE(load_cases(brief, five_boxes(2)).left_out.empty());
}

}  // namespace
}  // namespace skewback
