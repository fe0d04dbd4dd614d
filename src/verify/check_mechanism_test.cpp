// Motions worked out by hand on stacks of boxes, and the same motions spoilt.

#include <gmock/gmock.h>

#include <cmath>

#include "verify/test_stacks.hpp"

namespace skewback::audit {
namespace {

TEST(Mechanism, TippingPasses) {
  const auto v = verdict_on(overhang(), tipping());
  EXPECT_TRUE(v.ok) << why(v);
  EXPECT_LE(v.worst_penetration, 1e-15);
  // weight times 0.25 m, over weight times the farthest corner's distance from the edge
  EXPECT_NEAR(v.power_rel, 0.25 / std::hypot(0.75, 0.5), 1e-12);
}

TEST(Mechanism, WorkIsRecomputed) {
  const auto v = verdict_on(stack(), tipping());  // here the weight is raised, whatever "work" says
  EXPECT_THAT(v.reasons, Contains(HasSubstr("the loads do no work")));
}

TEST(Mechanism, Penetrating) {
  json e = tipping();
  e["blocks"][2] = motion("up", {-0.5, 0, 0.9}, {0, 1, 0});  // turns about a point inside the joint
  const auto v = verdict_on(overhang(), e);
  EXPECT_FALSE(v.ok);
  EXPECT_NEAR(v.worst_penetration * std::hypot(0.85, 0.5), 0.1, 1e-12);
  EXPECT_THAT(v.reasons, Contains(HasSubstr("low | up: the blocks move into each other")));
}

TEST(Mechanism, SlidingMustPartAsTheFlowRuleAsks) {
  json root = overhang();
  root["cases"][0]["gravity"] = {8, 0, -9.81};  // tilted past the angle of friction 0.6
  json e = tipping();
  e["blocks"][2] = motion("up", {1, 0, 0}, {0, 0, 0});
  EXPECT_FALSE(verdict_on(root, e).ok);
  e["blocks"][2] = motion("up", {1, 0, 0.6}, {0, 0, 0});
  const auto v = verdict_on(root, e);
  EXPECT_TRUE(v.ok) << why(v);
  e["friction"] = 0.7;
  EXPECT_FALSE(verdict_on(root, e).ok);
}

TEST(Mechanism, AJointLeftOutOfTheListIsFoundAllTheSame) {
  json root = overhang();
  root["blocks"].push_back(box_block("post", 1.2, 1.6, 0, 0.5, true));
  const auto v = verdict_on(root, tipping());
  EXPECT_FALSE(v.ok);
  EXPECT_THAT(v.reasons, Contains(HasSubstr("up | post: the blocks move into each other")));
  root["joints"].erase(0);  // and one that the mechanism does not hurt
  root["blocks"].erase(3);
  EXPECT_TRUE(verdict_on(root, tipping()).ok);
}

TEST(Mechanism, FixedBlocksAndAbsentOnes) {
  json e = tipping();
  e["blocks"][0] = motion("g", {0, 0, -1e-6}, {0, 0, 0});
  EXPECT_THAT(verdict_on(overhang(), e).reasons, Contains(HasSubstr("g is fixed and moves")));
  json root = overhang();
  root["blocks"].push_back(box_block("post", 1.2, 1.6, 0, 0.5, true));
  e = tipping();
  e["present"] = {"g", "low", "up"};
  const auto v = verdict_on(root, e);
  EXPECT_TRUE(v.ok) << why(v);
  EXPECT_THAT(v.assumes, Contains("3 of 4 blocks there"));
}

TEST(Mechanism, NothingMoves) {
  json e = tipping();
  e["blocks"] = json::array();
  EXPECT_THAT(verdict_on(overhang(), e).reasons, Contains("nothing moves"));
}

TEST(Mechanism, AtItsLoadFactor) {
  // stack(): tipping about x = 1 needs F * 0.25 > W * 0.25 in addition: F = 2000 f > 9810
  json e = tipping();
  e["case"] = "push";
  e["load_factor"] = kW / 2000 * 1.001;
  EXPECT_TRUE(verdict_on(stack(), e).ok) << why(verdict_on(stack(), e));
  e["load_factor"] = kW / 2000 * 0.999;
  EXPECT_FALSE(verdict_on(stack(), e).ok);
}

// stack(): the upper block's weight is a quarter metre within the edge at x = 1, what the claim
// says it carries a quarter metre beyond: it tips with more than its own 1,000 kg, whatever the
// assembly says.
TEST(Mechanism, UnderWhatTheClaimSaysIsCarried) {
  const json point = {1.25, 0.5, 1};
  json loaded = stack();
  loaded["blocks"][2]["carried"] = {{{"mass", 5000}, {"point", point}}};
  EXPECT_TRUE(verdict_on(loaded, tipping()).ok);
  for (const json& root : {stack(), loaded}) {
    json e = tipping();
    e["carried"] = {{{"block", "up"}, {"mass", 1001}, {"point", point}}};
    const auto v = verdict_on(root, e);
    EXPECT_TRUE(v.ok) << why(v);
    e["carried"][0]["mass"] = 999;
    EXPECT_FALSE(verdict_on(root, e).ok);
    e["carried"] = json::array();
    EXPECT_FALSE(verdict_on(root, e).ok);
  }
}

TEST(Mechanism, MovingIntoAProp) {
  json e = tipping();
  e["props"] = {
      {{"block", "up"}, {"point", {1.5, 0.5, 0.5}}, {"direction", {0, 0, 1}}, {"friction", 0}}};
  EXPECT_THAT(verdict_on(overhang(), e).reasons,
              Contains(HasSubstr("prop under up: the block moves into it")));
  e["props"][0]["point"] = {0.8, 0.5, 0.5};
  EXPECT_TRUE(verdict_on(overhang(), e).ok);
}

}  // namespace
}  // namespace skewback::audit
