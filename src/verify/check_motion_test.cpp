// Recorded motions worked out by hand: two blocks at rest, one that falls.
#include "verify/test_stacks.hpp"

namespace skewback::audit {
namespace {

json pose(double x, double y, double z) { return {x, y, z, 1, 0, 0, 0}; }

json frame(double time, const json& ground, const json& low, const json& up) {
  return {{"time_s", time}, {"poses", {ground, low, up}}};
}

json joint_force(const char* a, const char* b, double newtons, double x, double z) {
  return {{"a", a},
          {"b", b},
          {"force_n", {0, 0, newtons}},
          {"origin", {x, 0.5, z}},
          {"moment_nm", {0, 0, 0}},
          {"slid_m", 0}};
}

/// The stack at rest: the upper's weight acts over its middle, x = 0.75; both at x = 0.625.
json at_rest() {
  const json g = pose(0.5, 0.5, -0.5), low = pose(0.5, 0.5, 0.25), up = pose(0.75, 0.5, 0.75);
  json record;
  record["format"] = "recorded motion";
  record["case"] = {{"id", "dead"}};
  record["scene"] = {{"load_factor", 1},
                     {"friction", nullptr},
                     {"removals", json::array()},
                     {"drops", json::array()}};
  record["options"] = {{"rest_share", 1e-3}};
  record["ending"] = "at rest";
  record["time_s"] = 1;
  record["moved_max_m"] = 0;
  record["moved_block"] = "up";
  record["new_contacts"] = 0;
  record["energy_j"] = {{"error_rel", 1e-5}};
  record["joints"] = {joint_force("g", "low", 2 * kW, 0.625, 0),
                      joint_force("low", "up", kW, 0.75, 0.5)};
  record["blocks"] = {"g", "low", "up"};
  record["frames"] = {frame(0, g, low, up), frame(1, g, low, up)};
  return record;
}

/// The upper, without anything below: free fall for 0.3 s.
json falling() {
  json record = at_rest();
  const json g = pose(0.5, 0.5, -0.5), low = pose(0.5, 0.5, 0.25);
  record["ending"] = "moving off";
  record["time_s"] = 0.3;
  record["joints"] = json::array();
  record["frames"] = json::array();
  for (const double t : {0.0, 0.1, 0.2, 0.3})
    record["frames"].push_back(frame(t, g, low, pose(0.75, 0.5, 0.75 - 9.81 * t * t / 2)));
  record["moved_max_m"] = 9.81 * 0.09 / 2;
  return record;
}

EvidenceVerdict verdict_of(const json& record) {
  const Folder folder;
  folder.write("assembly.json", stack());
  folder.write("motion/m.json", record);
  const auto report = verify_folder(folder.path());
  if (!report) {
    ADD_FAILURE() << describe(report.faults()[0]);
    return {};
  }
  return report->files.at(0);
}

void expect_untrue(const json& record, const std::string& says) {
  const EvidenceVerdict v = verdict_of(record);
  EXPECT_FALSE(v.ok) << says;
  EXPECT_THAT(why(v), HasSubstr(says));
}

TEST(CheckMotion, RestByHand) {
  const EvidenceVerdict v = verdict_of(at_rest());
  EXPECT_TRUE(v.ok) << why(v);
  EXPECT_EQ(v.kind, "motion");
  EXPECT_EQ(v.file, "motion/m.json");
  EXPECT_LT(v.residual_rel, 1e-12);
}

TEST(CheckMotion, AFallByHand) {
  const EvidenceVerdict v = verdict_of(falling());
  EXPECT_TRUE(v.ok) << why(v);
}

/// The lower on the ground, the upper on a prop alone, which was lowered by 10 mm with it.
json on_a_prop() {
  json record = at_rest();
  record["joints"] = {joint_force("g", "low", kW, 0.5, 0)};
  record["frames"][1] = frame(1, pose(0.5, 0.5, -0.5), pose(0.5, 0.5, 0.25), pose(0.75, 0.5, 0.74));
  record["moved_max_m"] = 0.01;
  record["scene"]["present"] = nullptr;
  record["scene"]["carried"] = nullptr;
  record["scene"]["props"] = {{{"block", "up"},
                               {"point", {0.75, 0.5, 0.5}},
                               {"direction", {0, 0, 1}},
                               {"friction", 0.3},
                               {"lowered_m", 0.01},
                               {"force_n", {0, 0, kW}},
                               {"at", {0.75, 0.5, 0.49}}}};
  return record;
}

TEST(CheckMotion, PropsByHand) {
  const EvidenceVerdict v = verdict_of(on_a_prop());
  EXPECT_TRUE(v.ok) << why(v);
  EXPECT_THAT(v.assumes, Contains("1 props"));
  const auto wrong = [](const char* key, const json& value, const std::string& says) {
    json record = on_a_prop();
    record["scene"]["props"][0][key] = value;
    expect_untrue(record, says);
  };
  wrong("force_n", {0, 0, 0.99 * kW}, "up: out of balance by 0.01");
  wrong("force_n", {0, 0, -kW}, "prop under up: pulls");
  wrong("force_n", {0.31 * kW, 0, kW}, "more than 0.3 times");
  wrong("at", {0.76, 0.5, 0.49}, "does not act where the block lies on it");
  wrong("lowered_m", 0.011, "lies clear of it");
  wrong("block", "low", "out of balance");
  wrong("direction", {0, 0, 2}, "not of length 1");
}

TEST(CheckMotion, BlocksNotThereAndWhatIsCarried) {
  json record = at_rest();
  record["joints"] = {joint_force("g", "low", kW, 0.5, 0)};
  record["moved_block"] = "low";
  expect_untrue(record, "up: out of balance");
  record["scene"]["present"] = {"g", "low"};
  const EvidenceVerdict v = verdict_of(record);
  EXPECT_TRUE(v.ok) << why(v);
  EXPECT_THAT(v.assumes, Contains("2 of 3 blocks there"));
  json carries = record;
  carries["scene"]["carried"] = {{{"block", "low"}, {"mass", 100}, {"point", {0.5, 0.5, 0.25}}}};
  expect_untrue(carries, "low: out of balance");
  carries["joints"][0]["force_n"][2] = kW + 100 * 9.81;
  EXPECT_TRUE(verdict_of(carries).ok);
  json on_nothing = on_a_prop();
  on_nothing["scene"]["present"] = {"g", "low"};
  expect_untrue(on_nothing, "prop under up: the block is not there");
}

TEST(CheckMotion, ForcesThatDoNotHold) {
  json record = at_rest();
  record["joints"][1]["force_n"][2] = 0.99 * kW;
  expect_untrue(record, "up: out of balance by 0.01");
  record = at_rest();
  record["joints"][1]["moment_nm"][1] = 200;
  expect_untrue(record, "out of balance");
  record = at_rest();
  record["joints"][1]["force_n"] = {0.7 * kW, 0, kW};
  expect_untrue(record, "along the joint is more than 0.6 times");
  record = at_rest();
  record["joints"][1]["force_n"][2] = -kW;
  expect_untrue(record, "pulls");
  record = at_rest();
  record["joints"][1]["origin"] = {1.2, 0.5, 0.5};
  expect_untrue(record, "outside the faces");
  record = at_rest();
  record["joints"].push_back(joint_force("g", "up", 100, 0.5, 0));
  expect_untrue(record, "no faces of these blocks meet");
}

TEST(CheckMotion, TheBlocksFollowTheirPoses) {
  // the upper, pushed on to x = 1.01 by a sliding of 0.26 m: its weight is beyond the edge
  json record = at_rest();
  record["frames"][1] = frame(1, pose(0.5, 0.5, -0.5), pose(0.5, 0.5, 0.25), pose(1.01, 0.5, 0.75));
  record["moved_max_m"] = 0.26;
  record["joints"][1]["origin"] = {1.01, 0.5, 0.5};
  expect_untrue(record, "outside the faces");
}

TEST(CheckMotion, WordsThatAreNotSo) {
  json record = at_rest();
  record["moved_max_m"] = 0.001;
  expect_untrue(record, "the farthest block has gone");
  record = at_rest();
  record["frames"][0]["poses"][2][0] = 0.7501;
  expect_untrue(record, "off its centre of gravity");
  record = at_rest();
  record["frames"][1]["poses"][1][3] = 1.01;
  expect_untrue(record, "quaternion");
  record = at_rest();
  record["energy_j"]["error_rel"] = 0.02;
  expect_untrue(record, "the ledger misses");
  record = at_rest();
  record["options"]["rest_share"] = 0.5;
  expect_untrue(record, "rest is taken for");
  record = at_rest();
  record["case"]["id"] = "other";
  expect_untrue(record, "no case \"other\"");
  record = at_rest();
  record["blocks"][2] = "who";
  expect_untrue(record, "no block \"who\"");
  record = falling();
  record["frames"][3] = record["frames"][2];
  record["moved_max_m"] = 9.81 * 0.04 / 2;
  expect_untrue(record, "no longer going");
}

TEST(CheckMotion, WhatClaimsNothing) {
  json record = at_rest();
  record["ending"] = "not settled";
  EXPECT_EQ(verdict_of(record).kind, "none");
  record = at_rest();
  record["new_contacts"] = 1;
  EXPECT_EQ(verdict_of(record).kind, "none");
}

}  // namespace
}  // namespace skewback::audit
