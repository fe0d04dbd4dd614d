#include "survey/poses.hpp"

#include <gtest/gtest.h>

#include "stand/stand.hpp"
#include "survey/bed_surface.hpp"
#include "survey/sample_give.hpp"
#include "survey/sample_pillar.hpp"

namespace skewback {
namespace {

struct Trial {
  Assembly assembly = sample::pillar();
  AsMade made = as_drawn(assembly, 1);
  std::vector<SmallMove> moves = std::vector<SmallMove>(2);
  std::vector<Packer> packers;
  Rigid axes;
  PackingRequest packing = sample::half_mm();

  [[nodiscard]] Assembly build() const {
    const StackModel model(assembly);
    return rebuilt(model, {&made, moves, axes, packers}, packing);
  }
};

TEST(Rebuilt, AsDrawnIsAsDrawn) {
  const Trial t;
  const Assembly out = t.build();
  ASSERT_EQ(out.joints[0].contact.size(), 1u);
  EXPECT_NEAR(area(out.joints[0].contact), 0.6, 1e-6);
  EXPECT_NEAR((out.joints[0].frame.origin - Vec3(0, 0, 1)).norm(), 0, 1e-9);
  EXPECT_NEAR(out.blocks[1].mass.volume, 0.6, 1e-12);
}

// By hand: lifted 4 mm with two packers of 150 by 100 at the upper edge, one at the lower.
TEST(Rebuilt, LiftedJointBearsOnItsPackersOnly) {
  Trial t;
  t.moves[1].shift = {0, 0, 0.004};
  t.assembly.blocks[1].carried = {{.mass_kg = 80, .point = {0.2, 0, 2}}};
  t.packers = {{0, true, -0.3, 0.004, {0.003, 0.001}},
               {0, true, 0.3, 0.004, {0.003, 0.001}},
               {0, false, 0.0, 0.004, {0.003, 0.001}}};
  const Assembly out = t.build();
  EXPECT_NEAR(area(out.joints[0].contact), 3 * 0.15 * 0.10, 1e-6);
  EXPECT_EQ(out.joints[0].contact.size(), 3u);
  EXPECT_NEAR(out.joints[0].frame.origin.z(), 1.002, 1e-9);
  // (2 x 0.25 - 0.25) / 3 across: the origin is the centroid of what bears
  const Vec3 middle = out.joints[0].frame.origin;
  EXPECT_NEAR(middle.y(), 0.25 / 3, 1e-6);
  EXPECT_NEAR(middle.x(), 0, 1e-6);
  EXPECT_NEAR(out.joints[0].gap_tolerance_m, 0.002, 2e-6);
  EXPECT_EQ(prove_all(out)[0].verdict, Verdict::kStands);
  EXPECT_NEAR((out.cases[1].live[0].point - Vec3(0.1, 0.1, 2.004)).norm(), 0, 1e-12);
  EXPECT_NEAR((out.blocks[1].carried[0].point - Vec3(0.2, 0, 2.004)).norm(), 0, 1e-12);
}

TEST(Rebuilt, WithoutPackersALiftedJointDoesNotBear) {
  Trial t;
  t.moves[1].shift = {0, 0, 0.004};
  const Assembly out = t.build();
  EXPECT_TRUE(out.joints[0].contact.empty());
  EXPECT_TRUE(bearing_only(out).joints.empty());
}

// By hand: a gap from 0 at one edge to 3 mm at the other is within 0.5 mm over a sixth of the
// depth.
TEST(Rebuilt, WedgeBearsWhereItIsClose) {
  Trial t;
  const Vec3 cg = centre_of_gravity(t.assembly.blocks[1]), edge(0, -0.3, 1);
  t.moves[1].turn = {0.005, 0, 0};
  t.moves[1].shift = Vec3(0.005, 0, 0).cross(cg - edge);
  const Assembly out = t.build();
  EXPECT_NEAR(area(out.joints[0].contact), 0.6 / 6, 3e-4);
  t.packing.slack_m = 0.0015;
  EXPECT_NEAR(area(t.build().joints[0].contact), 0.6 / 2, 5e-4);
  t.packing.slack_m = 0.0031;
  EXPECT_NEAR(area(t.build().joints[0].contact), 0.6, 5e-4);
}

// By hand: pushed aside by 8 mm the faces share 8 mm less, and the plate at that edge too.
TEST(Rebuilt, StepTakesFromTheContact) {
  Trial t;
  t.moves[1].shift = {0, 0.008, 0};
  EXPECT_NEAR(area(t.build().joints[0].contact), 1.0 * (0.6 - 0.008), 1e-6);
  t.moves[1].shift.z() = 0.003;
  t.packers = {{0, false, 0.0, 0.003, {0.003}}};
  EXPECT_NEAR(area(t.build().joints[0].contact), 0.15 * (0.10 - 0.008), 1e-6);
}

// By hand: a bed cut 4 mm back takes 4 mm times the bed from the block, and leaves the gap open.
TEST(Rebuilt, BedMadeShortIsTakenFromTheBlock) {
  Trial t;
  t.made.on_b[0].height_m = 0.004;
  const Assembly out = t.build();
  EXPECT_NEAR(out.blocks[1].mass.volume, 0.6 - 0.004 * 0.6, 1e-12);
  EXPECT_NEAR(out.blocks[0].mass.volume, 0.6, 1e-12);
  EXPECT_TRUE(closed(out.blocks[1].solid));
  EXPECT_TRUE(out.joints[0].contact.empty());
  t.moves[1].shift = {0, 0, -0.004};
  EXPECT_NEAR(area(t.build().joints[0].contact), 0.6, 1e-6);
}

// By hand: the lower block's bed, half a pad under the joint, 4 mm low.
TEST(Rebuilt, BedOfTheLowerBlockIsOnItsOwnSideOfThePad) {
  Trial t;
  t.assembly = sample::pillar(0.008);
  t.made = as_drawn(t.assembly, 1);
  t.made.on_a[0].height_m = -0.004;
  const Assembly out = t.build();
  EXPECT_NEAR(out.blocks[0].mass.volume, 0.6 * (1 - 0.004) - 0.004 * 0.6, 1e-12);
  EXPECT_NEAR(out.blocks[1].mass.volume, 0.6 * (1 - 0.004), 1e-12);
  EXPECT_NEAR(out.joints[0].frame.origin.z(), 0.998, 1e-9);
}

// By hand: one bed rises by 4 mm a metre along y and by 2 along x, the other is level: the joint
// lies midway.
TEST(Rebuilt, JointLiesMidwayBetweenBedsThatSlope) {
  Trial t;
  t.packing.slack_m = 0.01;
  t.made.on_b[0].slope = {0.002, 0.004};
  const Vec3 midway = Vec3(-0.001, -0.002, 1).normalized();
  EXPECT_LT((t.build().joints[0].frame.z - midway).norm(), 1e-5);
}

// By hand: one corner 2 mm up takes a quarter of 2 mm on average; the bed is no plane any more.
TEST(Rebuilt, WarpedBedKeepsTheSolidClosed) {
  Trial t;
  t.made.on_b[0].corner_m = {0, 0, 0.002, 0};
  const Assembly out = t.build();
  const Solid& solid = out.blocks[1].solid;
  EXPECT_TRUE(closed(solid));
  // between the two ways of splitting the warped face in triangles
  EXPECT_LE(out.blocks[1].mass.volume, 0.6 - 0.002 * 0.6 / 6 + 1e-12);
  EXPECT_GE(out.blocks[1].mass.volume, 0.6 - 0.002 * 0.6 / 3 - 1e-12);
  for (const auto& face : solid.faces) {
    const Vec3 &p = solid.vertices[static_cast<std::size_t>(face[0])],
               &q = solid.vertices[static_cast<std::size_t>(face[1])],
               &r = solid.vertices[static_cast<std::size_t>(face[2])];
    const Plane plane{p, (q - p).cross(r - p).normalized()};
    for (const int v : face)
      EXPECT_NEAR(plane.distance(solid.vertices[static_cast<std::size_t>(v)]), 0, 1e-9);
  }
}

// By hand: gap 2 mm (1 + x / 0.5)(1 + y / 0.3) / 4 <= 0.5 mm where (1 + u)(1 + v) <= 1, u, v in
// [-1, 1]: area 0.3 x 0.5 x (1 + ln 4) of s t <= 1 over [0, 2] squared, which is 1 + ln 4.
TEST(Rebuilt, TwistedGapIsFollowed) {
  Trial t;
  t.made.on_b[0].corner_m = {0, 0, 0.002, 0};
  const double wanted = 0.5 * 0.3 * (1 + std::log(4.0));
  EXPECT_NEAR(area(t.build().joints[0].contact), wanted, 0.005);
}

// The axes move everything alike.
TEST(Rebuilt, AxesCarryTheWhole) {
  Trial t;
  t.axes = {Eigen::AngleAxisd(0.3, Vec3::UnitZ()).toRotationMatrix(), {5, -2, 1}};
  const Assembly out = t.build();
  EXPECT_NEAR(area(out.joints[0].contact), 0.6, 1e-6);
  EXPECT_NEAR((out.joints[0].frame.origin - t.axes(Vec3(0, 0, 1))).norm(), 0, 1e-9);
  EXPECT_NEAR((centre_of_gravity(out.blocks[1]) - t.axes(Vec3(0, 0, 1.5))).norm(), 0, 1e-9);
}

TEST(Rebuilt, PaddedJointStaysInTheMiddle) {
  Trial t;
  t.assembly = sample::pillar(0.008);
  t.made = as_drawn(t.assembly, 1);
  t.moves[1].shift = {0, 0, 0.0004};  // within slack
  const Assembly out = t.build();
  EXPECT_NEAR(area(out.joints[0].contact), 0.6, 1e-6);
  EXPECT_NEAR(out.joints[0].frame.origin.z(), 1.0002, 1e-9);
}

TEST(Warp, ThroughFourHeights) {
  const JointCorners corners{{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}}};
  const Warp warp = warp_through(corners, {1, 2, 5, 4});  // 3 + x/2 + 3y/2
  EXPECT_NEAR(warp.at({0, 0}), 3, 1e-12);
  EXPECT_NEAR(warp.at({1, 1}), 5, 1e-12);
  EXPECT_NEAR(warp.slope({0, 0}).x(), 0.5, 1e-12);
  EXPECT_NEAR(warp.slope({0, 0}).y(), 1.5, 1e-12);
}

}  // namespace
}  // namespace skewback
