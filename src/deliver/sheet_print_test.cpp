#include <gtest/gtest.h>

#include "assembly/sample_arch.hpp"
#include "deliver/outline.hpp"
#include "deliver/print_files.hpp"
#include "deliver/print_sheets.hpp"
#include "deliver/sample_print.hpp"

namespace skewback::deliver {
namespace {

Brief two_legs() {
  Brief brief;
  brief.plan.supports = {{"west", {-3, 0.5}, {-3, -0.5}, 0}, {"east", {3, -0.5}, {3, 0.5}, 0}};
  return brief;
}

std::vector<std::string> words_of(const Sheet& sheet) {
  std::vector<std::string> out;
  for (const auto& item : sheet.items) {
    if (const auto* words = std::get_if<Words>(&item)) out.push_back(words->text);
  }
  return out;
}
bool says(const Sheet& sheet, const std::string& part) {
  const auto all = words_of(sheet);
  return std::ranges::any_of(all, [&](const std::string& w) { return w.find(part) != w.npos; });
}

TEST(Ramp, TellsWhatLiesOutsideTheLimits) {
  const Ramp ramp{5, 15, {{0, 0, 0}, {100, 100, 100}}, 10};
  EXPECT_EQ(ramp.step_of(4.9), -1);
  EXPECT_EQ(ramp.step_of(5), 0);
  EXPECT_EQ(ramp.step_of(9.99), 4);
  EXPECT_EQ(ramp.step_of(15), 9);
  EXPECT_EQ(ramp.step_of(15.1), 10);
  EXPECT_EQ(ramp.colour(0).r, 0);
  EXPECT_EQ(ramp.colour(9).r, 100);
}

// Every stroke of the strip lies at its layer and is as long as the path is at that colour: in all,
// the paths of all layers at the scale of the longest.
TEST(Strip, UnrollsTheWholePathOfEveryLayer) {
  const BlockPrint block = sample::wedge_print({}, 0, "a");
  Sheet sheet{200, 100, "", {}};
  const Vec2 at(10, 10), size(150, 40);
  add_unrolled(sheet, at, size, block, height_ramp({}));
  double longest = 0, path = 0, drawn = 0;
  for (const LayerFacts& layer : block.layers) {
    longest = std::max(longest, layer.path_m);
    path += layer.path_m;
  }
  for (const auto& item : sheet.items) {
    const auto* shape = std::get_if<Shape>(&item);
    if (shape == nullptr || shape->pen.width_mm < 1) continue;  // axes are thin
    for (const auto& line : shape->rings) drawn += (line[1] - line[0]).norm();
  }
  EXPECT_NEAR(drawn, size.x() * path / longest, 1e-6);
}

// 45 layers, bends and colours everywhere: the thinning must hold the size.
TEST(BlockSheet, StaysSmall) {
  sample::HollowWedge wedge;
  wedge.layers = 45;
  wedge.half_long_m = 1.3;
  wedge.axis_m = 4;
  wedge.turn_rad = 0.01 / 4;
  wedge.step_m = 0.01;
  BlockPrint block = sample::wedge_print(wedge, 0, "a");
  ASSERT_GT(block.poses.size(), 20000U);
  for (std::size_t i = 0; i < block.poses.size(); ++i) {
    Pose& pose = block.poses[i];
    pose.tip += Vec3(0.02 * std::sin(0.9 * static_cast<double>(i)), 0, 0);
    pose.height_m = static_cast<float>(0.01 + 0.006 * std::sin(0.4 * static_cast<double>(i)));
    pose.overhang_rad = static_cast<float>(0.4 * std::sin(0.7 * static_cast<double>(i)));
  }
  const std::string text = svg(block_print_sheet(two_legs(), block));
  EXPECT_LT(text.size(), 400000U);
  EXPECT_EQ(text.find("n/a"), std::string::npos);
}

TEST(BlockSheet, SaysLimitsAndWhatWasFound) {
  const Sheet sheet = block_print_sheet(two_legs(), sample::wedge_print({}, 0, "yard 3"));
  EXPECT_TRUE(says(sheet, "Printing of yard 3"));
  EXPECT_TRUE(says(sheet, "20 layers, bed to bed"));
  EXPECT_TRUE(says(sheet, "Layers 8.00 to 12.00 mm; limits 5.0 and 15.0 mm"));
  EXPECT_TRUE(says(sheet, "limit 20.0"));
  EXPECT_FALSE(says(sheet, "ground off"));
  BlockPrint over = sample::wedge_print({}, 0, "yard 3");
  over.grind_m = 0.002;
  EXPECT_TRUE(says(block_print_sheet(two_legs(), over), "Far bed 2.0 mm over its plane"));
}

TEST(BlockSheet, OfABlockBeyondALimitSaysSoAndNamesNoFiles) {
  BlockPrint block = sample::wedge_print({}, 0, "yard 3");
  EXPECT_TRUE(says(block_print_sheet(two_legs(), block), "Poses: the .csv and .json"));
  block.printable = false;
  block.reason = "reach 9.4 m against 3.1 (x 0 m); to change: print.robot";
  const Sheet sheet = block_print_sheet(two_legs(), block);
  EXPECT_TRUE(says(sheet, "Printing of yard 3: NOT TO BE PRINTED"));
  EXPECT_TRUE(
      says(sheet, "Beyond a limit: reach 9.4 m against 3.1 (x 0 m). No poses are written."));
  EXPECT_FALSE(says(sheet, "Poses: the"));
}

TEST(PrintFiles, NoPosesOfABlockBeyondALimit) {
  const Assembly assembly = sample::arch_assembly({});
  PrintSet set = sample::small_print(assembly);
  const auto ending = [&](const std::string& end) {
    const auto files = print_files(two_legs(), assembly, set, {});
    return std::ranges::count_if(files, [&](const auto& f) { return f.path.ends_with(end); });
  };
  const auto tables = ending(".csv"), drawings = ending(".svg");
  const auto drawn = std::ranges::find_if(
      set.blocks, [](const BlockPrint& b) { return b.printable && !b.poses.empty(); });
  ASSERT_NE(drawn, set.blocks.end());
  drawn->printable = false;
  EXPECT_EQ(ending(".csv"), tables - 1);
  EXPECT_EQ(ending(".json"), tables - 1);
  EXPECT_EQ(ending(".svg"), drawings) << "the drawing shows what is wrong";
}

TEST(Overview, HasARowAnArmAndTheKeyLast) {
  const Assembly assembly = sample::arch_assembly({});
  const PrintSet set = sample::small_print(assembly);
  const auto rows = rows_by_arm(two_legs(), assembly, set);
  ASSERT_EQ(rows.size(), 3U);
  EXPECT_EQ(rows[0].name, "west");
  EXPECT_EQ(rows[0].blocks, (std::vector<std::size_t>{0, 1, 2}));
  EXPECT_EQ(rows[2].name, "key");
  const Sheet sheet = print_overview_sheet(two_legs(), assembly, set, 170);
  EXPECT_TRUE(says(sheet, "4 printed from bed to bed"));
  EXPECT_TRUE(says(sheet, "1 printed flat"));
  EXPECT_TRUE(says(sheet, "1 cast"));
  EXPECT_TRUE(says(sheet, "1 not printable"));
}

// 0.01 rad x (1 + i) in the sample: v4 is the key, so the fifth block has 0.05 rad = 2.9 degrees.
TEST(LayersAndThrust, GivesTheAngleOfEachBlockWithLayers) {
  const Assembly assembly = sample::arch_assembly({});
  std::vector<Regions> plan;
  for (const Block& block : assembly.blocks) plan.push_back(silhouette(block.solid, plan_view()));
  const PrintSet set = sample::small_print(assembly);
  const Sheet sheet = layers_thrust_sheet(two_legs(), assembly, set, plan, 297);
  const auto all = words_of(sheet);
  EXPECT_EQ(std::ranges::count(all, "2.9"), 2);   // plan and bar
  EXPECT_EQ(std::ranges::count(all, "none"), 2);  // the cast key
  EXPECT_LE(sheet.height_mm, 210);
}

// A letter is taken 0.6 em wide, a little more than the mean; names run down from where they end.
TEST(LayersAndThrust, LongNamesEndAboveTheCaption) {
  const Assembly assembly = sample::arch_assembly({});
  PrintSet set = sample::small_print(assembly);
  set.blocks.back().id = "north-west-of-the-mill-07-4";
  const Sheet sheet = layers_thrust_sheet(two_legs(), assembly, set, {}, 297);
  double name_ends = 0, caption = 0;
  for (const auto& item : sheet.items) {
    const auto* words = std::get_if<Words>(&item);
    if (words == nullptr) continue;
    if (words->text.starts_with("Bars and figures")) caption = words->at.y() - words->size_mm;
    if (words->text != set.blocks.back().id) continue;
    EXPECT_EQ(words->turn_deg, -90);
    name_ends = words->at.y() + 0.6 * words->size_mm * static_cast<double>(words->text.size());
  }
  EXPECT_GT(name_ends, 0);
  EXPECT_LT(name_ends, caption);
}

TEST(PrintFiles, AreThreeABlockWithPosesAndTwoSheets) {
  const Assembly assembly = sample::arch_assembly({});
  PrintSet set = sample::small_print(assembly);
  const auto files = print_files(two_legs(), assembly, set, {});
  EXPECT_EQ(files.size(), 5U * 3 + 2);
  EXPECT_EQ(files[0].path, "print/v1.csv");
  for (BlockPrint& block : set.blocks) block.poses.clear();
  EXPECT_FALSE(has_poses(set));
  EXPECT_TRUE(print_files(two_legs(), assembly, set, {}).empty());
}

}  // namespace
}  // namespace skewback::deliver
