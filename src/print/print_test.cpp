#include "print/print.hpp"

#include <gtest/gtest.h>

#include "base/constants.hpp"

namespace skewback {
namespace {

Block voussoir(double shortest, double longest) {
  Block block;
  block.id = "A1";
  block.place = {.arm = 0, .course = 1, .phi_length_min_m = shortest, .phi_length_max_m = longest};
  return block;
}

BlockLayers lay(const Block& block, double layer_min, double layer_max) {
  Brief brief;
  brief.print = {layer_min, layer_max};
  Assembly assembly;
  assembly.blocks = {block};
  return lay_layers(brief, assembly).blocks.at(0);
}

// Closed form: a 20 degree wedge between radii 1.0 and 1.6 m has flow lines that are arcs r *
// angle, so layers grow outwards as r and layers of 6 to 12 mm leave 47 to 58 of them.
TEST(Layers, AnnularWedge) {
  const double angle = 20 * kPi / 180;
  const BlockLayers wedge = lay(voussoir(1.0 * angle, 1.6 * angle), 0.006, 0.012);
  EXPECT_TRUE(wedge.printable) << wedge.reason;
  EXPECT_EQ(wedge.layers, 47);  // the fewest; 58 would be the most
  EXPECT_NEAR(wedge.layer_max_m / wedge.layer_min_m, 1.6, 1e-12);
  EXPECT_LE(wedge.layer_max_m, 0.012);
  EXPECT_GE(wedge.layer_min_m, 0.006);
  // One layer fewer would be too thick.
  EXPECT_GT(1.6 * angle / (wedge.layers - 1), 0.012);
}

TEST(Layers, WholeNumberOfLayersIsNotRoundedUp) {
  EXPECT_EQ(lay(voussoir(0.3, 0.3), 0.005, 0.010).layers, 30);
}

TEST(Layers, TooUnequalBlockIsRefusedWithItsFigure) {
  const BlockLayers block = lay(voussoir(0.20, 0.60), 0.006, 0.012);
  EXPECT_FALSE(block.printable);
  EXPECT_EQ(block.layers, 50);
  EXPECT_NE(block.reason.find("4.0 mm"), std::string::npos) << block.reason;
}

TEST(Layers, KeyOfThreeBedsIsNotPrintedByThisVersion) {
  Brief brief;
  Assembly assembly;
  assembly.blocks.assign(4, voussoir(0.3, 0.3));
  assembly.blocks[3].place.arm = -1;
  for (int arm = 0; arm < 3; ++arm) {
    Joint joint;
    joint.a = arm;
    joint.b = 3;
    assembly.joints.push_back(joint);
  }
  const BlockLayers key = lay_layers(brief, assembly).blocks.at(3);
  EXPECT_FALSE(key.printable);
  EXPECT_EQ(key.layers, 0);
  EXPECT_NE(key.reason.find("more than two beds"), std::string::npos);
  assembly.joints.pop_back();  // the key of a two-legged arch is a voussoir like any other
  EXPECT_TRUE(lay_layers(brief, assembly).blocks.at(3).printable);
}

TEST(Layers, GroundIsNotPrinted) {
  Brief brief;
  Assembly assembly;
  assembly.blocks = {voussoir(0.3, 0.3)};
  assembly.blocks[0].fixed = true;
  EXPECT_TRUE(lay_layers(brief, assembly).blocks.empty());
}

}  // namespace
}  // namespace skewback
