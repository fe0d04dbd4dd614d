// How far footings go, against statics.

#include "stand/footing_reach.hpp"

#include <gtest/gtest.h>

#include "assembly/assembly.hpp"
#include "base/constants.hpp"

namespace skewback {
namespace {

constexpr double kNarrow = 0.02, kReach = 1.5;  // m, of each bed and from the middle to the ends

/// A rigid beam on three narrow beds, each on a footing of its own; its weight over the middle one.
Assembly beam_on_three(double kn) {
  Assembly assembly;
  for (const double x : {-kReach, 0.0, kReach}) {
    Block footing;
    footing.id = x < 0 ? "left" : x > 0 ? "right" : "middle";
    footing.fixed = true;
    assembly.blocks.push_back(footing);
    Joint joint;
    joint.a = static_cast<int>(assembly.blocks.size()) - 1;
    joint.b = 3;
    joint.frame.origin = {x, 0, 0};
    const double half = kNarrow / 2;
    joint.contact = {{{{-half, -0.5}, {half, -0.5}, {half, 0.5}, {-half, 0.5}}, {}}};
    joint.friction = 0.6;
    joint.pad = Pad{0.008, kn, 0.4 * kn};
    assembly.joints.push_back(joint);
  }
  Block beam;
  beam.id = "beam";
  beam.density = 2400;
  beam.mass.volume = 1;
  beam.mass.centroid = {0, 0, 0.15};
  assembly.blocks.push_back(beam);
  assembly.cases.push_back({"dead", {0, 0, -kGravity}, {}, Vec3::Zero()});
  return assembly;
}

// Statics of three equal springs K under W over the middle one: each closes W / 3K. The middle one
// lowered by d is left with W / 3K - 2d/3, raised by d it leaves the others W / 3K - d/3; an end
// raised by d leaves the middle W / 3K - d/3. What opens is nowhere wide enough to matter.
TEST(FootingReach, OpensWhereThreeBedsSayAndHoldsBeyond) {
  const double W = 2400 * kGravity, sinks = 2e-3;  // W / K
  const Assembly assembly = beam_on_three(W / sinks / kNarrow);
  const auto all = footing_reach(assembly, assembly.cases[0], {}, {});
  ASSERT_EQ(all.size(), 36u);
  struct Row {
    int footing;
    const char* way;
    double opens;
    int joint;  // -1: either end
  };
  for (const Row& row : {Row{1, "down", sinks / 2, 1}, Row{1, "up", sinks, -1},
                         Row{0, "up", sinks, 1}, Row{2, "up", sinks, 1}}) {
    for (const FootingReach& reach : all) {
      if (reach.block != row.footing || reach.way != row.way) continue;
      EXPECT_LE(reach.opens, row.opens * (1 + 1e-3)) << row.footing << row.way;
      EXPECT_GE(reach.opens, row.opens * 0.949) << row.footing << row.way;
      EXPECT_FALSE(reach.opens_beyond);
      EXPECT_TRUE(reach.holds_beyond) << row.footing << row.way;
      EXPECT_EQ(reach.holds, 0.1);
      EXPECT_TRUE(row.joint < 0 ? reach.joint != 1 && reach.joint >= 0 : reach.joint == row.joint)
          << reach.joint;
    }
  }
}

// A block between two walls, grown by warmth: its two pads close by `warm` together, and friction
// carries W while they press with W / (2 mu) each. So one wall may draw back by `warm` less
// W / (mu k A).
TEST(FootingReach, HoldsToWhereFrictionLetsGo) {
  const double kn = 1e9, mu = 0.5, warm = 1e-3;  // m, closing of both pads together
  Assembly assembly;
  for (const double x : {-0.5, 0.5}) {
    Block wall;
    wall.id = x < 0 ? "left" : "right";
    wall.fixed = true;
    assembly.blocks.push_back(wall);
    Joint joint;
    joint.a = static_cast<int>(assembly.blocks.size()) - 1;
    joint.b = 2;
    joint.frame = {{x, 0, 0},
                   Vec3::UnitY(),
                   (x < 0 ? 1.0 : -1.0) * Vec3::UnitZ(),
                   (x < 0 ? 1.0 : -1.0) * Vec3::UnitX()};
    joint.contact = {{{{-0.5, -0.5}, {0.5, -0.5}, {0.5, 0.5}, {-0.5, 0.5}}, {}}};
    joint.friction = mu;
    joint.pad = Pad{0.008, kn, 0.4 * kn};
    assembly.joints.push_back(joint);
  }
  Block block;
  block.id = "block";
  block.density = 2400;
  block.mass.volume = 1;
  assembly.blocks.push_back(block);
  assembly.cases.push_back({"dead", {0, 0, -kGravity}, {}, Vec3::Zero()});
  PadOptions pads;
  pads.expansion = warm;  // of the block's half metre each way, per kelvin
  pads.warmer_k = 1;
  const double W = 2400 * kGravity, least = W / (mu * kn);  // closing of both pads together
  const auto all = footing_reach(assembly, assembly.cases[0], {}, pads);
  bool seen = false;
  for (const FootingReach& reach : all) {
    if (reach.block != 0 || reach.way != "outward") continue;
    seen = true;
    EXPECT_LE(reach.holds, (warm - least) * (1 + 1e-3));
    EXPECT_GE(reach.holds, (warm - least) * 0.949);
    EXPECT_FALSE(reach.holds_beyond);
  }
  EXPECT_TRUE(seen);
}

}  // namespace
}  // namespace skewback
