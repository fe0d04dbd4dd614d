#include "ground/rod_loads.hpp"

#include <gtest/gtest.h>

namespace skewback {
namespace {

TieState pulls(const std::string& id, std::vector<double> rods_kn) {
  TieState state;
  state.case_id = id;
  state.balanced = true;
  for (double& force : rods_kn) force *= 1e3;
  state.rod_force_n = {rods_kn};
  return state;
}

// EN 1990:2002, 6.10, by hand. One tie of two rods: weight 20 and 22 kN; people add 10 and 4, cold
// 5 and 6. 1.35 x 20 + 1.35 x 10 + 1.5 x 0.6 x 5 = 45 kN; 1.35 x 22 + 1.35 x 4 + 1.5 x 0.6 x 6
// = 40.5; cold leading: 27 + 7.5 + 1.35 x 0.4 x 10 = 39.9 and 29.7 + 9 + 2.16 = 40.86.
TEST(RodLoads, AddUpByTheirFactors) {
  const Brief brief;
  const TieState dead = pulls("dead", {20, 22}), full = pulls("full", {30, 26}),
                 cold = pulls("colder", {25, 28});
  const ActionPart people{"full", ActionKind::kPeople, 0.4},
      warmth{"colder", ActionKind::kWarmth, 0.6};
  const std::vector<const TieState*> states = {&dead, &full, &cold};
  const auto both = rod_pulls(brief, dead, states, {{"people-colder", {people, warmth}}});
  ASSERT_EQ(both.size(), 1u);
  EXPECT_NEAR(both[0].force_n, 45e3, 1e-6);
  EXPECT_EQ(both[0].case_id, "people-colder");
  EXPECT_EQ(both[0].words, "1.35 weight + 1.35 full + 0.9 colder");
  const auto led = rod_pulls(brief, dead, states, {{"colder-people", {warmth, people}}});
  EXPECT_NEAR(led[0].force_n, 40.86e3, 1e-6);
}

// What pulls less than the weight alone counts against low weight only: 1.35 x 22 = 29.7 kN stays.
TEST(RodLoads, ReliefLeavesTheWeight) {
  const TieState dead = pulls("dead", {20, 22}), lift = pulls("wind-east", {15, 16});
  const auto worst = rod_pulls(Brief{}, dead, {&dead, &lift},
                               {{"wind-east", {{"wind-east", ActionKind::kOther, 0.3}}}});
  EXPECT_NEAR(worst[0].force_n, 29.7e3, 1e-6);
  EXPECT_EQ(worst[0].case_id, "dead");
}

TEST(RodLoads, WithoutAStateACombinationIsLeftOut) {
  const TieState dead = pulls("dead", {20, 22});
  const auto worst =
      rod_pulls(Brief{}, dead, {&dead}, {{"snow", {{"snow", ActionKind::kOther, 0.8}}}});
  EXPECT_EQ(worst[0].case_id, "dead");
}

}  // namespace
}  // namespace skewback
