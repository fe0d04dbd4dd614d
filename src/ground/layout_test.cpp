#include "ground/layout.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "ground/losses.hpp"

namespace skewback {
namespace {

/// Four feet at the corners of a square of side 10 m, each pushed out along a diagonal by `thrust`:
/// two diagonals of 14.1 m with the thrust itself, or four sides with 1/sqrt(2) of it each.
struct Square {
  Brief brief;
  TieState state;
  explicit Square(double thrust) {
    const std::vector<Vec2> corner = {{5, 5}, {-5, 5}, {-5, -5}, {5, -5}};
    const std::vector<std::string> names = {"a", "b", "c", "d"};
    for (int i = 0; i < 4; ++i) {
      const Vec2 out = corner[i].normalized(), along(-out.y(), out.x());
      brief.plan.supports.push_back({names[i], corner[i] - along, corner[i] + along, 0});
      const Vec2 in = -thrust * out;
      state.supports.push_back({names[i],
                                {corner[i].x(), corner[i].y(), 0},
                                {in.x(), in.y(), 50e3},
                                Vec3::Zero(),
                                thrust});
    }
    state.case_id = "dead";
    state.balanced = true;
    brief.ground.every_pair = true;
    brief.ground.tie_factor = 1;
  }
};

double steel_of(double volume_force) { return kSteelDensity * volume_force / 355e6; }

// Steel is force times length: 2 x 14.142 x H for the diagonals, 4 x 10 x H / sqrt(2) for the
// sides: the same 28.28 H, as for every frame of ties under these loads (Maxwell 1864: the sum of
// force times length is the same for all that only pull).
TEST(Layout, SumOfForceTimesLengthIsMaxwells) {
  const Square s(100e3);
  const TieLayout found = tie_layout(s.brief, {&s.state});
  EXPECT_EQ(found.candidates.size(), 6u);
  ASSERT_TRUE(found.best);
  EXPECT_NEAR(found.best->steel_kg, steel_of(2 * std::sqrt(200.0) * 100e3), 1e-4);
  ASSERT_TRUE(found.second);
  EXPECT_NEAR(found.second->steel_kg, found.best->steel_kg, 1e-4);
  EXPECT_LT(found.second->ties.size(), 6u);
  ASSERT_TRUE(found.every_pair);
  // equal rods everywhere: sides and diagonals share, H = S sqrt(2) + D with S = D, two rods each
  const double each = 100e3 / (1 + std::sqrt(2.0)) / 2;
  EXPECT_NEAR(found.every_pair->steel_kg, steel_of(each * 2 * (40 + 2 * std::sqrt(200.0))), 1e-3);
  EXPECT_EQ(found.every_pair->ties.size(), 6u);
}

// Two cases that load one diagonal each: the sides serve both, the diagonals only one.
TEST(Layout, OneLayoutServesEveryCase) {
  Square s(100e3);
  TieState first = s.state, second = s.state;
  first.case_id = "first";
  second.case_id = "second";
  for (const int i : {1, 3}) first.supports[i].force.head<2>().setZero();
  for (const int i : {0, 2}) second.supports[i].force.head<2>().setZero();
  const TieLayout found = tie_layout(s.brief, {&first, &second});
  ASSERT_TRUE(found.best);
  // sides alone cannot hold one loaded diagonal (the other corners would be pulled in)
  EXPECT_EQ(found.best->ties.size(), 2u);
  EXPECT_NEAR(found.best->steel_kg, steel_of(2 * std::sqrt(200.0) * 100e3), 1e-4);
  EXPECT_FALSE(found.second);
  EXPECT_FALSE(found.second_reason.empty());
}

TEST(Layout, LinesThroughAFootingAreRefused) {
  Square s(100e3);
  s.brief.plan.supports.push_back({"e", {0, -0.5}, {0, 0.5}, 0});
  const Candidates found = candidate_ties(s.brief, true);
  EXPECT_FALSE(found.refused.empty());
  for (const std::string& text : found.refused)
    EXPECT_NE(text.find("footing of e"), std::string::npos) << text;
}

// With all six, the loss of a diagonal leaves the sides; with the diagonals alone it leaves
// nothing.
TEST(Losses, OthersTakeOver) {
  const Square s(100e3);
  const std::vector<Tie> all = candidate_ties(s.brief, true).ties;
  const auto sized = [](const std::vector<Tie>& ties) {
    std::vector<TieForce> out;
    for (const Tie& tie : ties) {
      out.push_back({.id = tie.id, .diameter_m = 0.024});
    }
    return out;
  };
  const auto losses = lose_each(s.brief, all, sized(all), {&s.state});
  EXPECT_EQ(losses.size(), 6u + 12u);
  for (std::size_t i = 0; i < 6; ++i) {
    EXPECT_TRUE(losses[i].held) << losses[i].tie << losses[i].reason;
    EXPECT_GT(losses[i].used, 0);
    EXPECT_LT(losses[i].used, 1);
  }
  std::vector<Tie> cross;
  for (const Tie& tie : all)
    if (tie.id == "a-c" || tie.id == "b-d") cross.push_back(tie);
  const auto alone = lose_each(s.brief, cross, sized(cross), {&s.state});
  ASSERT_EQ(alone.size(), 2u + 4u);
  EXPECT_FALSE(alone[0].held);
  EXPECT_NE(alone[0].reason.find("not held"), std::string::npos);
}

}  // namespace
}  // namespace skewback
