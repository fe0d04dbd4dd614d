// Forces worked out by hand on stacks of boxes, and the same forces spoilt in every way.

#include <gmock/gmock.h>

#include "verify/test_stacks.hpp"

namespace skewback::audit {
namespace {

// Half the live load: 1,000 N, carried down by leaning resultants.
json push_forces() {
  json e = dead_forces();
  e["case"] = "push";
  e["load_factor"] = 0.5;
  const double upper = 0.75 + 1000 * 0.25 / kW, lower = 0.625 + 1000 * 0.75 / (2 * kW);
  e["contacts"] = {
      {{"a", "low"}, {"b", "up"}, {"point", {upper, 0.5, 0.5}}, {"force", {-1000, 0, kW}}},
      {{"a", "low"}, {"b", "g"}, {"point", {lower, 0.5, 0}}, {"force", {1000, 0, -2 * kW}}}};
  return e;
}

TEST(Forces, RightOnesPass) {
  for (const json& e : {dead_forces(), push_forces()}) {
    const auto v = verdict_on(stack(), e);
    EXPECT_TRUE(v.ok) << why(v);
    EXPECT_LT(v.residual_rel, 1e-12);
    EXPECT_LE(v.worst_cone, 0);
    EXPECT_TRUE(v.assumes.empty());
  }
}

// docs/evidence.md: all forces of a joint together, their points in a list that files share.
TEST(Forces, OfAJointTogetherAndTheirPointsByPlace) {
  json e = push_forces();
  json points = json::array(), contacts = json::array();
  for (const json& c : e["contacts"]) {
    const json half = {c["force"][0].get<double>() / 2, 0, c["force"][2].get<double>() / 2};
    contacts.push_back({{"a", c["a"]},
                        {"b", c["b"]},
                        {"points", {points.size(), c["point"]}},  // by place, and written out
                        {"forces", {half, half}}});
    points.push_back(c["point"]);
  }
  e["contacts"] = contacts;
  const auto check = [&](const json& list, const json& claim) {
    const Folder folder;
    folder.write("assembly.json", stack());
    folder.write("evidence-points.json", list);
    folder.write("evidence/e.json", claim);
    return verify_folder(folder.path()).value().files.at(0);
  };
  const auto good = check(points, e);
  EXPECT_TRUE(good.ok) << why(good);
  EXPECT_LT(good.residual_rel, 1e-12);
  json elsewhere = points;
  elsewhere[1][0] = elsewhere[1][0].get<double>() + 0.01;
  EXPECT_FALSE(check(elsewhere, e).ok);
  EXPECT_THAT(why(check(json::array({points[0]}), e)), HasSubstr("no such point: 1"));
  json fewer = e;
  fewer["contacts"][0]["forces"].erase(1);
  EXPECT_THAT(why(check(points, fewer)), HasSubstr("not as many"));
}

TEST(Forces, DetectedJointsPassToo) {
  json root = stack();
  root["joints"] = "detect";
  root["friction"] = 0.2;
  EXPECT_TRUE(verdict_on(root, push_forces()).ok);
  root["friction"] = 0.1;  // needs 1000 / 9810
  EXPECT_FALSE(verdict_on(root, push_forces()).ok);
}

TEST(Forces, OffTheFace) {
  json e = dead_forces();  // balanced, but on a point and a plane beyond the overlap
  e["contacts"][0]["point"][0] = 0.5 - 0.26;
  e["contacts"][1]["point"][0] = 1 + 0.26;
  const auto v = verdict_on(stack(), e);
  EXPECT_FALSE(v.ok);
  EXPECT_LT(v.residual_rel, 1e-12);
  EXPECT_THAT(v.reasons, Contains(HasSubstr("low | up: the force acts 260 mm outside the faces")));
}

TEST(Forces, AMicrometreOffTheFace) {
  json e = dead_forces();
  e["contacts"][0]["point"][0] = 0.5 - 1e-6;
  e["contacts"][1]["point"][0] = 1 + 1e-6;
  EXPECT_FALSE(verdict_on(stack(), e).ok);
}

TEST(Forces, OffThePlane) {
  json e = dead_forces();
  e["contacts"][0]["point"][2] = 0.49;
  const auto v = verdict_on(stack(), e);
  EXPECT_THAT(v.reasons, Contains(HasSubstr("10 mm off the plane")));
}

TEST(Forces, OutOfTheCone) {
  json root = stack();
  root["joints"][1]["friction"] = 1000 / kW * (1 - 1e-6);
  const auto v = verdict_on(root, push_forces());
  EXPECT_FALSE(v.ok);
  EXPECT_GT(v.worst_cone, 0);
  EXPECT_THAT(v.reasons, Contains(HasSubstr("along the joint is more than")));
  root["joints"][1]["friction"] = 1000 / kW * (1 + 1e-6);
  EXPECT_TRUE(verdict_on(root, push_forces()).ok);
}

TEST(Forces, Pulling) {
  json e = dead_forces();  // lever: 3W at one point, -2W at another, still balanced
  e["contacts"][0] = {
      {"a", "low"}, {"b", "up"}, {"point", {0.85, 0.5, 0.5}}, {"force", {0, 0, 3 * kW}}};
  e["contacts"][1] = {
      {"a", "low"}, {"b", "up"}, {"point", {0.9, 0.5, 0.5}}, {"force", {0, 0, -2 * kW}}};
  const auto v = verdict_on(stack(), e);
  EXPECT_LT(v.residual_rel, 1e-12);
  EXPECT_THAT(v.reasons, testing::ElementsAre(HasSubstr("low | up: pulls")));
}

TEST(Forces, Unbalanced) {
  json e = dead_forces();
  e["contacts"][2]["force"][2] = kW * (1 + 1e-7);
  const auto v = verdict_on(stack(), e);
  EXPECT_FALSE(v.ok);
  EXPECT_NEAR(v.residual_rel, 1e-7, 1e-9);
  e = dead_forces();
  e["contacts"][2]["point"][0] = 0.63;  // moment only
  EXPECT_THAT(verdict_on(stack(), e).reasons, Contains(HasSubstr("low: out of balance")));
}

TEST(Forces, WrongWeightOrLoadFactor) {
  json root = stack();
  root["blocks"][2]["density"] = 2001;
  EXPECT_THAT(verdict_on(root, dead_forces()).reasons, Contains(HasSubstr("up: out of balance")));
  root = stack();
  root["blocks"][2]["carried"] = {{{"mass", 5}, {"point", {0.75, 0.5, 1.2}}}};
  EXPECT_FALSE(verdict_on(root, dead_forces()).ok);
  json e = push_forces();
  e["load_factor"] = 0.6;
  EXPECT_FALSE(verdict_on(stack(), e).ok);
  e["load_factor"] = nullptr;
  EXPECT_THAT(verdict_on(stack(), e).reasons, Contains(HasSubstr("no load factor")));
  e["case"] = "storm";
  EXPECT_THAT(verdict_on(stack(), e).reasons, Contains(HasSubstr("no case \"storm\"")));
}

constexpr double kOn = 1000;  // kg on the upper block, at its middle: as heavy as the block
json on_the_upper(double kg) { return {{{"mass", kg}, {"point", {0.75, 0.5, 1.2}}}}; }
json carried_forces() {
  json e = dead_forces();
  for (int i : {0, 1}) e["contacts"][i]["force"][2] = kW;
  for (int i : {2, 3}) {
    e["contacts"][i]["force"][2] = 1.5 * kW;
    e["contacts"][i]["point"][0] = (0.5 + 2 * 0.75) / 3;
  }
  return e;
}
json claimed(json e, double kg) {
  e["carried"] = {{{"block", "up"}, {"mass", kg}, {"point", {0.75, 0.5, 1.2}}}};
  return e;
}

TEST(Forces, CarriedMassIsWeighed) {
  json root = stack();
  root["blocks"][2]["carried"] = on_the_upper(kOn);
  const auto v = verdict_on(root, carried_forces());
  EXPECT_TRUE(v.ok) << why(v);
}

// docs/evidence.md: `carried` of a claim stands in place of the assembly's, all of it.
TEST(Forces, CarriedOfTheClaimStandsInPlaceOfTheAssemblys) {
  json loaded = stack();
  loaded["blocks"][2]["carried"] = on_the_upper(kOn);
  for (const json& root : {stack(), loaded}) {
    EXPECT_TRUE(verdict_on(root, claimed(carried_forces(), kOn)).ok);
    EXPECT_FALSE(verdict_on(root, claimed(dead_forces(), kOn)).ok);
    EXPECT_FALSE(verdict_on(root, claimed(carried_forces(), 1.001 * kOn)).ok);
    json bare = dead_forces();
    bare["carried"] = json::array();
    const auto v = verdict_on(root, bare);
    EXPECT_TRUE(v.ok) << why(v);
    bare = carried_forces();
    bare["carried"] = json::array();
    EXPECT_FALSE(verdict_on(root, bare).ok);
    json twice = claimed(carried_forces(), kOn / 2);  // two halves are the whole
    twice["carried"].push_back(twice["carried"][0]);
    EXPECT_TRUE(verdict_on(root, twice).ok);
  }
  json as_there = carried_forces();
  as_there["carried"] = nullptr;
  EXPECT_TRUE(verdict_on(loaded, as_there).ok);
  EXPECT_FALSE(verdict_on(stack(), as_there).ok);
}

TEST(Forces, CarriedThatCannotBe) {
  json e = claimed(dead_forces(), 0);
  EXPECT_TRUE(verdict_on(stack(), e).ok);
  EXPECT_THAT(why(verdict_on(stack(), claimed(dead_forces(), -1))), HasSubstr("below zero"));
  e["carried"][0]["block"] = "roof";
  EXPECT_THAT(why(verdict_on(stack(), e)), HasSubstr("no block \"roof\""));
}

TEST(Forces, BetweenBlocksThatDoNotMeet) {
  json e = dead_forces();
  e["contacts"].push_back(
      {{"a", "g"}, {"b", "up"}, {"point", {1.1, 0.5, 0.5}}, {"force", {0, 0, 0}}});
  EXPECT_THAT(verdict_on(stack(), e).reasons,
              Contains(HasSubstr("g | up: no faces of these blocks meet")));
  e = dead_forces();
  e["present"] = {"g", "low"};
  EXPECT_THAT(verdict_on(stack(), e).reasons, Contains(HasSubstr("up, which is not there")));
}

TEST(Forces, PadsStandOffByHalfTheirThickness) {
  json root = stack();
  root["blocks"][2] = box_block("up", 0.25, 1.25, 0.508, 1.008);
  root["joints"][1] = joint("low", "up", 0.25, 1, 0.504);
  json e = dead_forces();
  for (int i : {0, 1}) e["contacts"][i]["point"][2] = 0.504;
  EXPECT_THAT(verdict_on(root, e).reasons, Contains(HasSubstr("no faces of these blocks meet")));
  root["joints"][1]["pad"] = {{"thickness", 0.008}, {"kn", 1e9}, {"ks", 1e9}};
  const auto v = verdict_on(root, e);
  EXPECT_TRUE(v.ok) << why(v);
}

TEST(Forces, PackersFillAnAskewGapWhereTheFileSaysSo) {
  json root = stack();  // the upper block's bed leans by 12 mm over a metre
  root["blocks"][2] =
      prism_block("up", {{0.25, 0.502}, {1.25, 0.514}, {1.25, 1.014}, {0.25, 1.002}}, false);
  root["joints"][1] = joint("low", "up", 0.25, 1, 0.5);
  json e = dead_forces();  // a parallelogram: centroid at x 0.75, weight as before
  EXPECT_FALSE(verdict_on(root, e).ok);
  root["joints"][1]["gap_tolerance"] = 0.02;
  const auto v = verdict_on(root, e);
  EXPECT_TRUE(v.ok) << why(v);
}

TEST(Forces, PropsPushAndNeverPull) {
  json root = stack();
  root["blocks"][2] = box_block("up", 0.75, 1.75, 0.5, 1);  // its weight beyond the lower block
  root["joints"][1] = joint("low", "up", 0.75, 1, 0.5);
  json e = dead_forces();
  e["props"] = {
      {{"block", "up"}, {"point", {1.5, 0.5, 0.5}}, {"direction", {0, 0, 1}}, {"friction", 0}}};
  e["prop_forces"] = {{{"prop", 0}, {"force", {0, 0, kW / 2}}}};
  e["contacts"] = {
      {{"a", "low"}, {"b", "up"}, {"point", {1, 0.5, 0.5}}, {"force", {0, 0, kW / 2}}},
      {{"a", "g"}, {"b", "low"}, {"point", {0.5 + 0.5 / 3, 0.5, 0}}, {"force", {0, 0, 1.5 * kW}}}};
  auto v = verdict_on(root, e);
  EXPECT_TRUE(v.ok) << why(v);
  EXPECT_THAT(v.assumes, Contains("1 props"));
  e["props"][0]["direction"] = {0, 0, -1};
  EXPECT_THAT(verdict_on(root, e).reasons, Contains(HasSubstr("prop under up: pulls")));
}

}  // namespace
}  // namespace skewback::audit
