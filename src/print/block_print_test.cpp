#include <gtest/gtest.h>

#include "base/constants.hpp"
#include "print/sample_prints.hpp"

namespace skewback {
namespace {

using sample::arch;
using sample::kVoussoirs;
using sample::named;
using sample::print;
using sample::solid_brief;

// Reach is short by a quarter and more, the time by 1.09: the first stands first in the list.
TEST(Print, TheReasonIsTheWorstAndNamesTheOthers) {
  Brief brief = solid_brief();
  brief.print.layer_time_max_s = 22;
  brief.print.reach_max_m = 1.5;  // the table's middle is 2 m off
  const BlockPrint block = print(brief, arch()).blocks.at(3);
  EXPECT_TRUE(block.reason.starts_with("reach ")) << block.reason;
  EXPECT_NE(block.reason.find("also beyond their limits: layer time, greatest"), std::string::npos)
      << block.reason;
}

// The last layer is thicker by what is ground off; the block beneath it is as designed.
TEST(Print, GrindingIsAllowedFor) {
  Brief brief = solid_brief();
  const BlockPrint bare = print(brief, arch()).blocks.at(3);
  brief.print.grind_allowance_m = 0.002;
  const BlockPrint block = print(brief, arch()).blocks.at(3);
  ASSERT_TRUE(block.printable) << block.reason;
  ASSERT_EQ(block.layers.size(), bare.layers.size());
  const double bed_m2 = 0.45 * 0.5;
  EXPECT_EQ(block.grind_m, 0.002);
  EXPECT_NEAR(block.ground_m3, 0.002 * bed_m2, 0.01 * 0.002 * bed_m2);
  EXPECT_NEAR(block.volume_m3 - bare.volume_m3, block.ground_m3, 0.02 * block.ground_m3);
  EXPECT_NEAR(block.layers.back().height_max_m, bare.layers.back().height_max_m + 0.002, 1e-9);
  EXPECT_EQ(block.layers.front().height_max_m, bare.layers.front().height_max_m);
  EXPECT_LT(block.far_bed_error_m, 1e-9);
  EXPECT_GT(block.time_s, bare.time_s);
  EXPECT_TRUE(named(block, "volume laid")->passes());
  brief.print.far_bed = "levelled";
  EXPECT_EQ(print(brief, arch()).blocks.at(3).volume_m3, bare.volume_m3);
  // 31 layers of 10.5 mm leave 1.5 mm: two of them take a millimetre each
  brief.print.far_bed = "ground";
  brief.print.layer_max_m = 0.012;
  brief.print.layer_min_m = 0.0078;
  const BlockPrint shared = print(brief, arch()).blocks.at(3);
  ASSERT_EQ(shared.layers.size(), 31U);
  EXPECT_NEAR(shared.layer_max_m, 3.225 * kPi / kVoussoirs / 31 + 0.001, 1e-4);
  EXPECT_NEAR(shared.ground_m3, 0.002 * bed_m2, 0.01 * 0.002 * bed_m2);
}

// By hand: 31 layers are 30 um under the greatest height, and 2 mm shared by all of them are 65 um
// more; of 32 there is room over six. Ways are radius times angle, 31 the middle of the limits.
TEST(Print, ALayerMoreIsTriedBeforeABlockIsGivenUp) {
  const double angle = kPi / kVoussoirs;
  Brief brief = solid_brief();
  brief.print.otherwise = {"cast"};
  brief.print.layer_max_m = 3.225 * angle / 31 + 30e-6;
  brief.print.layer_min_m = 2.775 * angle / 32.05;
  const BlockPrint bare = print(brief, arch()).blocks.at(3);
  EXPECT_TRUE(bare.printable) << bare.reason;
  EXPECT_EQ(bare.layers.size(), 31U);
  brief.print.grind_allowance_m = 0.002;
  const BlockPrint block = print(brief, arch()).blocks.at(3);
  EXPECT_TRUE(block.printable) << block.reason;
  EXPECT_EQ(block.layers.size(), 32U);
  EXPECT_NEAR(block.layers.back().height_max_m, 3.225 * angle / 32 + 0.002 / 6, 2e-6);
}

}  // namespace
}  // namespace skewback
