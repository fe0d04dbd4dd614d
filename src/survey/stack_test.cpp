#include "survey/stack.hpp"

#include <gtest/gtest.h>

#include <random>

#include "assembly/sample_arch.hpp"
#include "assembly/sample_tripod.hpp"
#include "survey/sample_give.hpp"
#include "survey/sample_packing.hpp"

namespace skewback {
namespace {

double worst_gap(const Stack& stack) {
  double worst = 0;
  for (const JointLie& lie : stack.joints)
    worst = std::max({worst, std::abs(lie.gap_min_m()), std::abs(lie.gap_max_m())});
  return worst;
}
double worst_step(const Stack& stack) {
  double worst = 0;
  for (const JointLie& lie : stack.joints) worst = std::max(worst, lie.step_max_m());
  return worst;
}

TEST(JointCorners, AreThoseOfARectangleInTheirOrder) {
  Joint joint;
  joint.contact = {{{{-2, -1}, {2, -1}, {2, 1}, {0, 1}, {-2, 1}}, {}}};
  const JointCorners corners = joint_corners(joint);
  EXPECT_EQ(corners[0], Vec2(-2, -1));
  EXPECT_EQ(corners[1], Vec2(2, -1));
  EXPECT_EQ(corners[2], Vec2(2, 1));
  EXPECT_EQ(corners[3], Vec2(-2, 1));
}

TEST(JointCorners, SpanAllPartsOfAContact) {
  Joint joint;
  joint.contact = {{{{-2, -1}, {-1, -1}, {-1, 1}, {-2, 1}}, {}},
                   {{{1, -1}, {2, -1}, {2, 1}, {1, 1}}, {}}};
  EXPECT_EQ(joint_corners(joint)[0], Vec2(-2, -1));
  EXPECT_EQ(joint_corners(joint)[2], Vec2(2, 1));
}

/// By hand: two corners of a lozenge are as far out along each diagonal; the first counts, whatever
/// rounding says, for stacking as for the marks of a bed.
TEST(JointCorners, OfALozengeAreThoseOfItsBed) {
  Joint joint;
  joint.contact = {{{{-0.3, 0}, {0, -0.1}, {0.3, 0}, {0, 0.1}}, {}}};
  for (Vec2& p : joint.contact[0].outer) p += Vec2(0.1, 0.7);
  const JointCorners corners = joint_corners(joint);
  const std::vector<Vec2>& p = joint.contact[0].outer;
  EXPECT_EQ(corners[0], p[0]);
  EXPECT_EQ(corners[1], p[1]);
  EXPECT_EQ(corners[2], p[2]);
  EXPECT_EQ(corners[3], p[0]);
}

TEST(SmallMove, AsARigidOneTurnsAboutTheCentre) {
  const Vec3 centre(3, -2, 5), p(4, 1, 6);
  const SmallMove move{{0.01, -0.02, 0.005}, {1e-5, -2e-5, 3e-5}};
  const Rigid X = rigid(move, centre);
  const Vec3 small = p + move.shift + move.turn.cross(p - centre);
  EXPECT_LT((X(p) - small).norm(), 1e-8);  // turn^2 times a metre or three
  EXPECT_LT((X(centre) - centre - move.shift).norm(), 1e-15);
  EXPECT_LT((X.R * X.R.transpose() - Mat3::Identity()).norm(), 1e-15);
}

TEST(StackOrder, GoesUpFromAllSpringingsAndEndsWithTheKey) {
  const Assembly arch = sample::arch_assembly({.voussoirs = 7});
  const StackModel model(arch);
  ASSERT_EQ(model.order().size(), 7u);
  EXPECT_EQ(model.order(), (std::vector<int>{0, 6, 1, 5, 2, 4, 3}));
}

TEST(StackOrder, WithoutPlacesIsBreadthFirstFromTheGround) {
  Assembly arch = sample::arch_assembly({.voussoirs = 5});
  for (Block& block : arch.blocks) block.place = {};
  EXPECT_EQ(StackModel(arch).order(), (std::vector<int>{0, 4, 1, 3, 2}));
}

TEST(Stack, OfDrawnBlocksOnDrawnFootingsIsTheDrawing) {
  const Assembly arch = sample::arch_assembly({});
  const StackModel model(arch);
  const Stack stack = stack_up(model, as_drawn(arch, 2), {});
  EXPECT_TRUE(stack.key_goes_in);
  EXPECT_LT(worst_gap(stack), 1e-15);
  EXPECT_EQ(stack.finding, "the key goes in and every joint closes");
  for (const SmallMove& move : stack.moves) EXPECT_LT(move.shift.norm() + move.turn.norm(), 1e-14);
}

/// What is bedded on one footing alone goes with it as one body, whatever its move.
TEST(Stack, AnArmFollowsItsFootingToRounding) {
  const Assembly tripod = sample::tripod_assembly({});
  const StackModel model(tripod);
  AsMade made = as_drawn(tripod, 3);
  const Vec3 about = centre_of_gravity(tripod.blocks[1]);
  const SmallMove move{{0.004, -0.006, 0.011}, {0.002, -0.001, 0.003}};
  made.supports[1] = rigid(move, about);
  const Stack stack = stack_up(model, made, {});
  for (std::size_t i = 0; i < tripod.blocks.size(); ++i) {
    if (tripod.blocks[i].place.arm != 1) continue;
    const Vec3 arm = centre_of_gravity(tripod.blocks[i]) - about;
    EXPECT_LT((stack.moves[i].turn - move.turn).norm(), 1e-12) << tripod.blocks[i].id;
    EXPECT_LT((stack.moves[i].shift - move.shift - move.turn.cross(arm)).norm(), 1e-12);
  }
  const std::size_t first = 5;  // joints of the second arm: 5 to 8, and 9 to the key
  for (std::size_t j = first; j < first + 4; ++j) {
    EXPECT_LT(std::abs(stack.joints[j].gap_max_m()), 1e-13);
    EXPECT_LT(stack.joints[j].step_max_m(), 1e-13);
  }
}

/// All supports moved alike: nothing opens, whatever the movement.
TEST(Stack, OneRigidMoveOfAllSupportsOpensNothing) {
  std::mt19937_64 random(7);
  std::uniform_real_distribution<double> any(-1, 1);
  const Assembly tripod = sample::tripod_assembly({});
  const StackModel model(tripod);
  for (int i = 0; i < 20; ++i) {
    AsMade made = as_drawn(tripod, 3);
    const Vec3 turn = 1e-6 * Vec3(any(random), any(random), any(random));
    const Rigid X = rigid({0.02 * Vec3(any(random), any(random), any(random)), turn}, {1, 2, 3});
    for (Rigid& support : made.supports) support = X;
    const Stack stack = stack_up(model, made, {});
    EXPECT_LT(worst_gap(stack), 1e-10);  // turn^2 times the span is what small moves leave out
    EXPECT_LT(worst_step(stack), 1e-10);
    EXPECT_TRUE(stack.key_goes_in);
  }
}

/// By hand: five cubes between footings 2 mm too far apart; two follow each footing, the key in the
/// middle has 2 mm more than it needs, 1 mm on either side.
TEST(Stack, SharesWhatIsTooWideOnBothSidesOfTheKey) {
  sample::FiveCubes row;
  row.made.supports[1].t.x() = 0.002;
  const Stack stack = stack_up(row.model, row.made, {});
  EXPECT_TRUE(stack.key_goes_in);
  for (std::size_t j = 0; j < 6; ++j) {
    const double open = j == 2 || j == 3 ? 0.001 : 0;
    EXPECT_NEAR(stack.joints[j].gap_min_m(), open, 1e-12) << j;
    EXPECT_NEAR(stack.joints[j].gap_max_m(), open, 1e-12) << j;
  }
  EXPECT_NE(stack.finding.find(" is open by 1.0 mm"), std::string::npos) << stack.finding;
}

/// By hand: six pads, each 0.5 mm too thick, leave the key 3 mm too little room:
/// 1.5 mm too tight on either side.
TEST(Stack, PadsTooThickKeepTheKeyOutAndAreNamed) {
  sample::FiveCubes row;
  row.made.pad_m.assign(6, 0.0005);
  const Stack stack = stack_up(row.model, row.made, {});
  EXPECT_FALSE(stack.key_goes_in);
  EXPECT_NEAR(stack.joints[2].gap_min_m(), -0.0015, 1e-12);
  EXPECT_NEAR(stack.joints[3].gap_min_m(), -0.0015, 1e-12);
  EXPECT_NE(stack.finding.find("c3 is 1.5 mm too wide at the joint"), std::string::npos)
      << stack.finding;
}

/// A bed proud by h puts what lies on it up by h; the next block's near bed low by h takes it back.
TEST(Stack, BedsCountTowardsTheSideTheyStandOutTo) {
  sample::FiveCubes row;
  row.made.on_a[0].height_m = 0.001;   // of the west footing, along +x: pushes c1 on
  row.made.on_b[1].height_m = 0.0004;  // c2's near bed set back: c2 lies 0.4 mm nearer to c1
  const Stack stack = stack_up(row.model, row.made, {});
  EXPECT_NEAR(stack.moves[1].shift.x(), 0.001, 1e-12);
  EXPECT_NEAR(stack.moves[2].shift.x(), 0.0006, 1e-12);
}

/// A bed that slopes turns what lies on it: rise of 1 mm a metre is a turn of a milliradian.
TEST(Stack, ASlopingBedTurnsTheBlock) {
  sample::FiveCubes row;
  row.made.on_a[0].slope.y() = 0.001;
  const Stack stack = stack_up(row.model, row.made, {});
  const Frame& frame = row.drawn.joints[0].frame;
  EXPECT_LT((stack.moves[1].turn - 0.001 * frame.x).norm(), 1e-12);
  row.made.on_a[0].slope = Vec2::Zero();
  row.made.on_a[0].corner_m = {-0.0005, -0.0005, 0.0005,
                               0.0005};  // the same slope, corner by corner
  EXPECT_LT((stack_up(row.model, row.made, {}).moves[1].turn - 0.001 * frame.x).norm(), 1e-12);
}

/// One cube on one upright bed, timber 1 mm high. At a rise z and a turn q the four corners step by
/// z - q/2 (1/36 each) and open by q/2: least 4/37 z^2 in all, at q = 2 z / 37; timber: 0.09 (z -
/// 1)^2.
TEST(Stack, TimberLiftsABlockAgainstTheStepsOfItsJoint) {
  Assembly row = sample::row_of_cubes(5);
  row.joints.resize(1);
  const StackModel model(row);
  AsMade made = as_drawn(row, 2);
  made.timber_m[1] = 0.001;
  const Stack stack = stack_up(model, made, {});
  EXPECT_NEAR(stack.moves[1].shift.z(), 0.001 * 0.09 / (0.09 + 4.0 / 37), 1e-12);
}

TEST(Stack, SaysWhatIsOutOfLine) {
  sample::FiveCubes row;
  // d = 5 mm on either side of the key, which turns by q = 2 d / 37: as above, d - q/2 is left
  row.made.supports[1].t.y() = 0.010;
  const Stack stack = stack_up(row.model, row.made, sample::half_mm());
  EXPECT_FALSE(stack.key_goes_in);
  EXPECT_NEAR(worst_step(stack), 0.005 * 36 / 37, 1e-12);
  EXPECT_NE(stack.finding.find("c3 is 4.9 mm out of line at the joint"), std::string::npos)
      << stack.finding;
}

}  // namespace
}  // namespace skewback
