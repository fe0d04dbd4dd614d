#pragma once
// For the tests of verify/: stacks of boxes one metre deep, evidence worked out by hand, a folder
// to put them in.

#include <gmock/gmock.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <string>
#include <utility>
#include <vector>

#include "verify/verify.hpp"

namespace skewback::audit {

namespace fs = std::filesystem;
using nlohmann::json;
using testing::Contains;
using testing::HasSubstr;

inline json prism_block(const std::string& id, const std::vector<std::pair<double, double>>& xz,
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

inline json box_block(const std::string& id, double x0, double x1, double z0, double z1,
                      bool fixed = false) {
  return prism_block(id, {{x0, z0}, {x1, z0}, {x1, z1}, {x0, z1}}, fixed);
}

inline json joint(const char* a, const char* b, double x0, double x1, double z,
                  double friction = 0.6) {
  return {{"a", a},
          {"b", b},
          {"friction", friction},
          {"polygon", {{x0, 0, z}, {x1, 0, z}, {x1, 1, z}, {x0, 1, z}}}};
}

// Tests run side by side, each as a program of its own.
inline std::string own_name() {
  const auto* test = testing::UnitTest::GetInstance()->current_test_info();
  return std::string("verify-") + test->test_suite_name() + "-" + test->name();
}

class Folder {
 public:
  Folder() : path_(fs::path(testing::TempDir()) / own_name()) {
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

inline EvidenceVerdict verdict_on(const json& assembly, const json& evidence) {
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

inline std::string why(const EvidenceVerdict& v) {
  std::string all;
  for (const std::string& reason : v.reasons) all += reason + "; ";
  return all;
}

inline constexpr double kW = 1000 * 9.81;  // each block: 1 x 1 x 0.5 m of 2,000 kg/m3

// Ground, then two blocks, the upper a quarter metre along. Live: 2,000 N along x at the upper's
// middle.
inline json stack() {
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

inline json dead_forces() {
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

// The upper block three quarters along: it tips about the edge at x = 1, z = 0.5.
inline json overhang() {
  json root = stack();
  root["blocks"][2] = box_block("up", 0.75, 1.75, 0.5, 1);
  root["joints"][1] = joint("low", "up", 0.75, 1, 0.5);
  return root;
}

inline json motion(const char* id, const std::vector<double>& v, const std::vector<double>& w) {
  return {{"id", id}, {"v", v}, {"w", w}};
}

inline json tipping() {  // w x (p - (1, 0, 0.5)) with w = (0, 1, 0): v = (-0.5, 0, 1)
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

}  // namespace skewback::audit
