#include "deliver/motion_rose.hpp"

#include <gmock/gmock.h>

#include <cmath>

#include "assembly/sample_arch.hpp"
#include "base/constants.hpp"
#include "deliver/sample_sheet.hpp"

namespace skewback::deliver {
namespace {

using ::testing::HasSubstr;

MotionReach reach(int block, const std::string& way, double angle, double held) {
  MotionReach r;
  r.block = block;
  r.way = way;
  r.unit.shift = {std::cos(angle), std::sin(angle), 0};
  r.held = held;
  r.moved_off = 1.02 * held;
  r.path = {{0, 41200}, {held, 52300}};
  return r;
}

/// Nothing here was reckoned: numbers to be found again.
MotionReaches eight_bearings(const Assembly& arch) {
  MotionReaches all;
  all.start.ending = Ending::kAtRest;
  for (int block = 7; block < static_cast<int>(arch.blocks.size()); ++block) {
    all.ways.push_back(reach(block, "outward", block == 7 ? kPi : 0, 0.123));
    MotionReach turn = reach(block, "turned + about up", 0, 0.1);
    turn.is_turn = true;
    all.ways.push_back(turn);
    for (int k = 0; k < 8; ++k) {
      all.ways.push_back(
          reach(block, "bearing " + std::to_string(45 * k), kPi / 4 * k, 0.08 + 0.04 * k));
      all.ways.back().bearing_rad = kPi / 4 * k;
    }
    all.ways.back().beyond = true;
    all.ways.back().moved_off.reset();
  }
  return all;
}

TEST(MotionRose, EveryRayIsOnTheSheetWithItsFigure) {
  const Assembly arch = sample::arch_assembly({});
  const Sheet sheet = motion_rose_sheet(arch, eight_bearings(arch), {});
  sample::expect_on_sheet(sheet);
  const std::string text = svg(sheet);
  for (const char* words : {"ground-west", "ground-east", ">80<", ">120<", "&gt; 360",
                            "outward 123 mm", "turned + about up 5.7 deg", "41.2 kN", "52.3 kN"})
    EXPECT_THAT(text, HasSubstr(words));
}

TEST(MotionRose, OfThreeFootingsAndMoreStaysOnTheSheet) {
  const Assembly arch = sample::arch_assembly({});
  for (const int footings : {1, 3, 5}) {
    MotionReaches all;
    for (int block = 0; block < footings; ++block)
      for (int k = 0; k < 16; ++k) {
        all.ways.push_back(reach(block, "bearing", kPi / 8 * k, 0.2 + 0.01 * block));
        all.ways.back().bearing_rad = kPi / 8 * k;
      }
    sample::expect_on_sheet(motion_rose_sheet(arch, all, {}));
  }
}

TEST(MotionRose, FourWaysDoWithoutBearings) {
  const Assembly arch = sample::arch_assembly({});
  MotionReaches all;
  for (const auto& [way, angle] :
       {std::pair{"outward", kPi}, {"inward", 0.0}, {"left", -kPi / 2}, {"right", kPi / 2}})
    all.ways.push_back(reach(7, way, angle, 0.1));
  EXPECT_FALSE(motion_rose_sheet(arch, all, {}).items.empty());
  all.ways.pop_back();
  EXPECT_TRUE(motion_rose_sheet(arch, all, {}).items.empty());
}

TEST(MotionRose, TheTableHoldsWhatWasFound) {
  const Assembly arch = sample::arch_assembly({});
  const auto table = motion_reach_json(arch, eight_bearings(arch));
  EXPECT_EQ(table["start"], "at rest");
  ASSERT_EQ(table["ways"].size(), 20U);
  EXPECT_EQ(table["ways"][0]["footing"], "ground-west");
  EXPECT_EQ(table["ways"][0]["held"], 0.123);
  EXPECT_EQ(table["ways"][1]["unit"], "rad");
  EXPECT_TRUE(table["ways"][9]["moved_off"].is_null());
  EXPECT_TRUE(table["ways"][9]["beyond"]);
  EXPECT_EQ(table["ways"][0]["path"][1]["thrust_n"], 52300);
}

}  // namespace
}  // namespace skewback::deliver
