// Evidence worked out by hand on stacks of boxes, and the same evidence spoilt in every way.

#include "verify/verify.hpp"

#include <gmock/gmock.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

namespace skewback {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using testing::Contains;
using testing::HasSubstr;

json prism_block(const std::string& id, const std::vector<std::pair<double, double>>& xz,
                 bool fixed) {
  // outline in x and z, counter-clockwise seen from -y, one metre deep
  json vertices = json::array(), front = json::array(), back = json::array(), faces = json::array();
  const int n = static_cast<int>(xz.size());
  for (double y : {0.0, 1.0}) {
    for (const auto& [x, z] : xz) vertices.push_back({x, y, z});
  }
  for (int i = 0; i < n; ++i) {
    const int j = (i + 1) % n;
    front.push_back(i);
    back.push_back(2 * n - 1 - i);
    faces.push_back({i, i + n, j + n, j});
  }
  faces.push_back(front);
  faces.push_back(back);
  return {
      {"id", id}, {"vertices", vertices}, {"faces", faces}, {"density", 2000}, {"fixed", fixed}};
}

json box_block(const std::string& id, double x0, double x1, double z0, double z1,
               bool fixed = false) {
  return prism_block(id, {{x0, z0}, {x1, z0}, {x1, z1}, {x0, z1}}, fixed);
}

json joint(const char* a, const char* b, double x0, double x1, double z, double friction = 0.6) {
  return {{"a", a},
          {"b", b},
          {"friction", friction},
          {"polygon", {{x0, 0, z}, {x1, 0, z}, {x1, 1, z}, {x0, 1, z}}}};
}

class Folder {
 public:
  Folder() : path_(fs::path(testing::TempDir()) / "verify-folder") {
    fs::remove_all(path_);
    fs::create_directories(path_ / "evidence");
  }
  ~Folder() { fs::remove_all(path_); }
  void write(const std::string& name, const json& j) const {
    fs::create_directories((path_ / name).parent_path());
    std::ofstream(path_ / name) << j.dump();
  }
  [[nodiscard]] const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

EvidenceVerdict verdict_on(const json& assembly, const json& evidence) {
  const Folder folder;
  folder.write("assembly.json", assembly);
  folder.write("evidence/e.json", evidence);
  const auto report = verify_folder(folder.path());
  if (!report) {
    ADD_FAILURE() << describe(report.faults()[0]);
    return {};
  }
  return report->files.at(0);
}

std::string why(const EvidenceVerdict& v) {
  std::string all;
  for (const std::string& reason : v.reasons) all += reason + "; ";
  return all;
}

constexpr double kW = 1000 * 9.81;  // each block: 1 x 1 x 0.5 m of 2,000 kg/m3

// Ground, then two blocks, the upper a quarter metre along. Live: 2,000 N along x at the upper's
// middle.
json stack() {
  json root;
  root["blocks"] = {box_block("g", -2, 3, -1, 0, true), box_block("low", 0, 1, 0, 0.5),
                    box_block("up", 0.25, 1.25, 0.5, 1)};
  root["joints"] = {joint("g", "low", 0, 1, 0), joint("low", "up", 0.25, 1, 0.5)};
  root["cases"] = {
      {{"id", "dead"}},
      {{"id", "push"},
       {"live", {{{"block", "up"}, {"point", {0.75, 0.5, 0.75}}, {"force", {2000, 0, 0}}}}}}};
  return root;
}

json dead_forces() {
  return {{"case", "dead"},
          {"kind", "forces"},
          {"load_factor", nullptr},
          {"present", nullptr},
          {"friction", nullptr},
          {"props", json::array()},
          {"prop_forces", json::array()},
          {"contacts",
           {{{"a", "low"}, {"b", "up"}, {"point", {0.5, 0.5, 0.5}}, {"force", {0, 0, kW / 2}}},
            {{"a", "low"}, {"b", "up"}, {"point", {1, 0.5, 0.5}}, {"force", {0, 0, kW / 2}}},
            {{"a", "g"}, {"b", "low"}, {"point", {0.625, 0, 0}}, {"force", {0, 0, kW}}},
            {{"a", "g"}, {"b", "low"}, {"point", {0.625, 1, 0}}, {"force", {0, 0, kW}}}}}};
}

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

TEST(Forces, CarriedMassIsWeighed) {
  json root = stack();
  root["blocks"][2]["carried"] = {{{"mass", 1000}, {"point", {0.75, 0.5, 1.2}}}};
  json e = dead_forces();
  for (int i : {0, 1}) e["contacts"][i]["force"][2] = kW;
  for (int i : {2, 3}) {
    e["contacts"][i]["force"][2] = 1.5 * kW;
    e["contacts"][i]["point"][0] = (0.5 + 2 * 0.75) / 3;
  }
  const auto v = verdict_on(root, e);
  EXPECT_TRUE(v.ok) << why(v);
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

// ---- mechanisms --------------------------------------------------------------------------------

// The upper block three quarters along: it tips about the edge at x = 1, z = 0.5.
json overhang() {
  json root = stack();
  root["blocks"][2] = box_block("up", 0.75, 1.75, 0.5, 1);
  root["joints"][1] = joint("low", "up", 0.75, 1, 0.5);
  return root;
}

json motion(const char* id, const std::vector<double>& v, const std::vector<double>& w) {
  return {{"id", id}, {"v", v}, {"w", w}};
}

json tipping() {  // w x (p - (1, 0, 0.5)) with w = (0, 1, 0): v = (-0.5, 0, 1)
  return {{"case", "dead"},
          {"kind", "mechanism"},
          {"load_factor", 0},
          {"present", nullptr},
          {"friction", nullptr},
          {"props", json::array()},
          {"work", 123},
          {"blocks",
           {motion("g", {0, 0, 0}, {0, 0, 0}), motion("low", {0, 0, 0}, {0, 0, 0}),
            motion("up", {-0.5, 0, 1}, {0, 1, 0})}}};
}

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

TEST(Mechanism, MovingIntoAProp) {
  json e = tipping();
  e["props"] = {
      {{"block", "up"}, {"point", {1.5, 0.5, 0.5}}, {"direction", {0, 0, 1}}, {"friction", 0}}};
  EXPECT_THAT(verdict_on(overhang(), e).reasons,
              Contains(HasSubstr("prop under up: the block moves into it")));
  e["props"][0]["point"] = {0.8, 0.5, 0.5};
  EXPECT_TRUE(verdict_on(overhang(), e).ok);
}

// ---- folders -----------------------------------------------------------------------------------

TEST(VerifyFolder, SubfoldersAndUndecidedCases) {
  const Folder folder;
  folder.write("assembly.json", stack());
  folder.write("evidence/a.json", dead_forces());
  folder.write("evidence/b.json", {{"case", "push"}, {"kind", "none"}});
  folder.write("asbuilt/assembly.json", overhang());
  folder.write("asbuilt/evidence/a.json", tipping());
  auto report = verify_folder(folder.path());
  ASSERT_TRUE(report.ok());
  ASSERT_EQ(report->files.size(), 3u);
  EXPECT_EQ(report->files[2].file, "asbuilt/evidence/a.json");
  EXPECT_EQ(report->unclaimed(), 1u);
  EXPECT_EQ(report->failed(), 0u);
  EXPECT_TRUE(report->ok());
  std::ofstream(folder.path() / "evidence/c.json") << "not json";
  report = verify_folder(folder.path());
  ASSERT_TRUE(report.ok());
  EXPECT_EQ(report->failed(), 1u);
  EXPECT_FALSE(report->ok());
}

TEST(VerifyFolder, WhatCannotBeChecked) {
  EXPECT_FALSE(verify_folder("/no/such/folder").ok());
  const Folder folder;
  EXPECT_THAT(describe(verify_folder(folder.path()).faults().at(0)), HasSubstr("no evidence"));
  folder.write("evidence/a.json", dead_forces());
  EXPECT_THAT(describe(verify_folder(folder.path()).faults().at(0)), HasSubstr("assembly.json"));
  json open = stack();
  open["blocks"][1]["faces"].erase(0);
  folder.write("assembly.json", open);
  EXPECT_THAT(describe(verify_folder(folder.path()).faults().at(0)),
              HasSubstr("\"low\" is not closed"));
  json turned = stack();
  for (json& face : turned["blocks"][1]["faces"]) std::reverse(face.begin(), face.end());
  folder.write("assembly.json", turned);
  EXPECT_THAT(describe(verify_folder(folder.path()).faults().at(0)), HasSubstr("inside out"));
}

}  // namespace
}  // namespace skewback
