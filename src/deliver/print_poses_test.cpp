#include "deliver/print_poses.hpp"

#include <gtest/gtest.h>

#include <map>
#include <nlohmann/json.hpp>
#include <sstream>

#include "assembly/sample_arch.hpp"
#include "deliver/sample_print.hpp"

namespace skewback::deliver {
namespace {

using nlohmann::json;
using Table = std::map<std::string, std::vector<double>>;

Table read(const std::string& csv) {
  std::istringstream lines(csv);
  std::string line;
  std::vector<std::string> names;
  Table table;
  while (std::getline(lines, line)) {
    EXPECT_EQ(line.back(), '\r');
    line.pop_back();
    std::istringstream cells(line);
    std::string cell;
    for (std::size_t c = 0; std::getline(cells, cell, ','); ++c) {
      if (table.empty() || names.size() <= c) {
        names.push_back(cell);
        table[cell];
      } else {
        table[names[c]].push_back(std::stod(cell));
      }
    }
  }
  return table;
}

// Two poses a metre apart.
BlockPrint one_bead(double width, double height, double speed) {
  BlockPrint block;
  block.id = "a";
  block.layers.resize(3);
  Pose pose;
  pose.height_m = static_cast<float>(height);
  pose.share_m = static_cast<float>(width - (1 - kPi / 4) * height);
  pose.speed_m_s = static_cast<float>(speed);
  pose.layer = 2;
  block.poses = {pose, pose};
  block.poses[1].tip = {1, -1e-9, 0};
  block.poses[1].time_s = 1 / speed;
  return block;
}

// Closed form: a bead of 60 x 10 mm with rounded sides, A = wh - (1 - pi/4) h^2 = 578.54 mm2, takes
// 20 L/min at 576.17 mm/s.
TEST(Poses, WriteTheFlowOfABeadWithRoundedSides) {
  const double area = 0.06 * 0.01 - (1 - kPi / 4) * 1e-4;
  EXPECT_NEAR(area, 578.54e-6, 1e-8);
  const Table t = read(pose_files(one_bead(0.06, 0.01, 0.02 / 60 / area), {}).csv);
  EXPECT_NEAR(t.at("speed_mm_s")[0], 576.17, 0.01);
  EXPECT_NEAR(t.at("flow_l_min")[0], 20, 1e-3);
  EXPECT_NEAR(t.at("bead_width_mm")[0], 60, 1e-3);
  EXPECT_NEAR(t.at("bead_height_mm")[0], 10, 1e-3);
  EXPECT_EQ(t.at("layer")[0], 3);
  EXPECT_NEAR(t.at("x_mm")[1], 1000, 0.005);
  EXPECT_NEAR(t.at("time_s")[1], area / (0.02 / 60), 0.0005);
}

// Beads at 1 and 2, 4, and 6 and 7; travels before, between and after: two stops, by counting.
TEST(Poses, StopsAreTravelsBetweenBeads) {
  BlockPrint block = one_bead(0.06, 0.01, 0.5);
  const Pose bead = block.poses.front();
  Pose travel = bead;
  travel.share_m = 0;
  block.poses = {travel, bead, bead, travel, bead, travel, bead, bead, travel};
  EXPECT_EQ(stops(block), 2);
  EXPECT_EQ(json::parse(pose_files(block, {}).json).at("stops"), 2);
}

TEST(Poses, DoseTheAcceleratorOnlyWhereTheBriefDoes) {
  PrintRequest cell;
  const BlockPrint block = one_bead(0.05, 0.01, 0.2);
  EXPECT_EQ(read(pose_files(block, cell).csv).count("accelerator_ml_min"), 0U);
  cell.accelerator = 0.04;
  const Table t = read(pose_files(block, cell).csv);
  // closed form: 4 parts in 104 of (50 x 10 - 21.46 mm2) x 200 mm/s = 5.7425 L/min
  EXPECT_NEAR(t.at("accelerator_ml_min")[0], 220.87, 0.02);
}

TEST(Poses, WriteNoNegativeZero) {
  EXPECT_EQ(pose_files(one_bead(0.05, 0.01, 0.2), {}).csv.find("-0.00,"), std::string::npos);
}

TEST(Poses, ATravelHasNeitherWidthNorFlow) {
  BlockPrint block = one_bead(0.05, 0.01, 0.2);
  block.poses[0].share_m = 0;
  const Table t = read(pose_files(block, {}).csv);
  EXPECT_EQ(t.at("bead_width_mm")[0], 0);
  EXPECT_EQ(t.at("flow_l_min")[0], 0);
  EXPECT_EQ(t.at("speed_mm_s")[0], 200);
}

// Pappus: a section S turned about an axis at distance r by an angle is of volume S r angle. Rows
// climb from layer to layer, which the solid does not know of: 1e-3.
TEST(Poses, VolumeInTheTableIsThatOfTheWedge) {
  const sample::HollowWedge wedge;
  const Table t = read(pose_files(sample::wedge_print(wedge, 0, "a"), {}).csv);
  double volume = 0, time = 0;
  for (std::size_t i = 0; i + 1 < t.at("time_s").size(); ++i) {
    double square = 0;
    for (const char* axis : {"x_mm", "y_mm", "z_mm"})
      square += std::pow(t.at(axis)[i + 1] - t.at(axis)[i], 2);
    const double w = t.at("bead_width_mm")[i], h = t.at("bead_height_mm")[i];
    volume += (w * h - (1 - kPi / 4) * h * h) * std::sqrt(square) * 1e-9;
    time += std::sqrt(square) / t.at("speed_mm_s")[i];
  }
  EXPECT_NEAR(volume / (20 * 0.01 * (0.045 * 2.0 + 0.045 * 0.3)), 1, 1e-3);
  EXPECT_NEAR(time / t.at("time_s").back(), 1, 1e-4);
}

TEST(Poses, JsonHoldsTheRowsOfTheTable) {
  PrintRequest cell;
  cell.accelerator = 0.03;
  BlockPrint block = sample::wedge_print({}, 0, "a \"b\"");
  block.to_table.t = {1, 2, 3};
  const PoseFiles files = pose_files(block, cell);
  const json j = json::parse(files.json);
  const Table t = read(files.csv);
  EXPECT_EQ(j["block"], "a \"b\"");
  EXPECT_EQ(j["format"], 1);
  EXPECT_EQ(j["layers"].size(), 20U);
  EXPECT_EQ(j["frame"]["table_from_world"][2][3], 3.0);
  ASSERT_EQ(j["poses"].size(), block.poses.size());
  ASSERT_EQ(j["columns"].size(), t.size());
  for (std::size_t c = 0; c < j["columns"].size(); ++c) {
    const auto& column = t.at(j["columns"][c].get<std::string>());
    ASSERT_EQ(column.size(), block.poses.size());
    for (std::size_t i = 0; i < column.size(); ++i) ASSERT_EQ(j["poses"][i][c], column[i]);
  }
  EXPECT_EQ(files.csv, pose_files(block, cell).csv);
  EXPECT_EQ(files.json, pose_files(block, cell).json);
}

TEST(Poses, FilesNeverCollide) {
  PrintSet set;
  for (const char* id : {"a b", "a_b", "overview", "c"}) {
    set.blocks.emplace_back();
    set.blocks.back().id = id;
  }
  EXPECT_EQ(print_stems(set), (std::vector<std::string>{"a_b", "a_b~2", "overview~2", "c"}));
}

}  // namespace
}  // namespace skewback::deliver
