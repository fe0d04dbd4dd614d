// Whether what is left out of balance fits inside the cones, on stacks worked out by hand.

#include <gmock/gmock.h>

#include "verify/test_stacks.hpp"

namespace skewback::audit {
namespace {

/// The dead load of the stack, each joint's share on four corners; `off` of it is missing.
json on_corners(double off) {
  json contacts = json::array();
  const auto add = [&](const char* a, const char* b, double x, double z, double newtons) {
    for (const double dx : {-0.1, 0.1}) {
      for (const double y : {0.0, 1.0}) {
        contacts.push_back(
            {{"a", a}, {"b", b}, {"point", {x + dx, y, z}}, {"force", {0, 0, newtons / 4}}});
      }
    }
  };
  add("low", "up", 0.75, 0.5, kW * (1 - off));
  add("g", "low", 0.625, 0, 2 * kW);
  json e = dead_forces();
  e["contacts"] = contacts;
  return e;
}

TEST(Absorb, AResidualWithinTheConesIsTakenUp) {
  const auto v = verdict_on(stack(), on_corners(3e-10));
  ASSERT_TRUE(v.ok) << why(v);
  EXPECT_GT(v.residual_rel, 1e-10);
  EXPECT_TRUE(v.rigorous) << v.not_rigorous;
  EXPECT_LE(v.left_rel, 1e-15);
  // by hand: W 3e-10 over four corners, each with a room of mu n / sqrt(1 + mu^2) or less
  EXPECT_GT(v.margin_used, 2e-10);
  EXPECT_LT(v.margin_used, 1e-7);
}

TEST(Absorb, OnePointCannotTakeUpAMoment) {
  json e = dead_forces();
  e["contacts"] = {
      {{"a", "low"}, {"b", "up"}, {"point", {0.75 + 1e-10, 0.5, 0.5}}, {"force", {0, 0, kW}}},
      {{"a", "g"}, {"b", "low"}, {"point", {0.625, 0.5, 0}}, {"force", {0, 0, 2 * kW}}}};
  const auto v = verdict_on(stack(), e);
  ASSERT_TRUE(v.ok) << why(v);
  EXPECT_GT(v.residual_rel, 1e-12);
  EXPECT_FALSE(v.rigorous);
  EXPECT_FALSE(v.not_rigorous.empty());
}

TEST(Absorb, ForcesOnTheEdgeOfTheirConesHaveNoRoom) {
  json root = stack(), e = on_corners(0);
  // every force leans by the friction there is, and the net of them is out by a hair
  e["friction"] = 0.25;
  for (json& c : e["contacts"]) {
    const double n = c["force"][2];
    const double y = c["point"][1].get<double>() > 0.5 ? 0.25 * n : -0.25 * n;
    c["force"][1] = y * (1 - 1e-12);
  }
  e["contacts"][0]["force"][2] = e["contacts"][0]["force"][2].get<double>() * (1 + 1e-10);
  const auto v = verdict_on(root, e);
  ASSERT_TRUE(v.ok) << why(v);
  EXPECT_FALSE(v.rigorous);
  EXPECT_GT(v.margin_used, 1);
  EXPECT_THAT(v.not_rigorous, HasSubstr("times the room"));
}

TEST(Absorb, ExactBalanceNeedsNothing) {
  const auto v = verdict_on(stack(), dead_forces());
  ASSERT_TRUE(v.ok) << why(v);
  EXPECT_TRUE(v.rigorous) << v.not_rigorous;
  EXPECT_LE(v.left_rel, 1e-15);
}

}  // namespace
}  // namespace skewback::audit
