// Stacks, walls and single blocks against published, closed-form and independent values.

#include "blocks.hpp"

#include <gtest/gtest.h>

#include "motion/collapse.hpp"
#include "stand/stand.hpp"

namespace skewback {
namespace {

// Source: closed form, min(mu, b/h).
TEST(PublishedBlocks, BlockPushedOnAPlane) {
  struct Row {
    double friction, factor;
  };
  for (const Row& row : {Row{0.3, 0.3}, Row{0.6, 0.4}}) {
    Assembly assembly;
    assembly.blocks = {ground(), rectangle("block", 0, 0.4, 0, 1)};
    assembly.joints = {bed_joint(0, 1, 0, 0.4, 0, row.friction)};
    const CaseProof proof = limit_load(assembly, pushed(kGravity));
    EXPECT_NEAR(proof.load_factor.value(), row.factor, 1e-6);
    EXPECT_EQ(proof.verdict, Verdict::kFalls);
  }
}

/// Unit cube on a plane of slope `tangent`, its edges at 45 degrees to the steepest line.
Assembly tilted_cube(double tangent, double friction) {
  const double angle = std::atan(tangent), half = std::sqrt(0.5);
  Assembly assembly;
  Joint joint;
  joint.frame = frame_on({Vec3::Zero(), Vec3(-std::sin(angle), 0, std::cos(angle))});
  joint.a = 0;
  joint.b = 1;
  joint.contact = {{{{half, 0}, {0, half}, {-half, 0}, {0, -half}}, {}}};
  joint.friction = friction;
  assembly.joints = {joint};
  Block cube = rectangle("cube", 0, 1, 0, 1);
  cube.mass.centroid = 0.5 * joint.frame.z;
  assembly.blocks = {ground(), cube};
  return assembly;
}

// Source: closed form: slips at tan = mu, whichever way the edges lie.
TEST(PublishedBlocks, CubeSlipsAtItsFrictionAngleWhateverItsEdges) {
  EXPECT_EQ(limit_load(tilted_cube(0.7 - 1e-4, 0.7), dead()).verdict, Verdict::kStands);
  EXPECT_EQ(limit_load(tilted_cube(0.7 + 1e-4, 0.7), dead()).verdict, Verdict::kFalls);
}

/// n unit blocks, each pushed out over the next by `stretch` / (2 k), on a table that ends at x =
/// 0.
Assembly harmonic_stack(int n, double stretch) {
  const double height = 0.2;
  Assembly assembly;
  assembly.blocks = {ground()};
  double tip = 0;
  for (int k = n; k >= 1; --k) {  // k: blocks from the top down; the lowest comes first
    const double before = k == n ? 0 : tip;
    tip = before + stretch / (2.0 * k);
    const int index = n - k + 1;
    const double z = height * (index - 1);
    assembly.blocks.push_back(rectangle("b" + std::to_string(index), tip - 1, tip, z, z + height));
    assembly.joints.push_back(bed_joint(index - 1, index, tip - 1, before, z, 0.7));
  }
  return assembly;
}

// Source: Paterson and Zwick 2009, American Mathematical Monthly 116:19: the harmonic stack of n
// blocks hangs over by sum 1/(2k). Stretched evenly by 1e-6 in all it falls, shrunk it stands.
TEST(PublishedBlocks, HarmonicStack) {
  struct Row {
    int blocks;
    double overhang;
  };
  for (const Row& row : {Row{2, 0.75}, Row{3, 11.0 / 12}, Row{4, 25.0 / 24}, Row{5, 137.0 / 120},
                         Row{10, 1.464484}, Row{30, 1.997494}}) {
    double sum = 0;
    for (int k = 1; k <= row.blocks; ++k) sum += 1 / (2.0 * k);
    ASSERT_NEAR(sum, row.overhang, 5e-7);
    const CaseProof inside = limit_load(harmonic_stack(row.blocks, 1 - 1e-6 / sum), dead());
    const CaseProof outside = limit_load(harmonic_stack(row.blocks, 1 + 1e-6 / sum), dead());
    EXPECT_EQ(inside.verdict, Verdict::kStands) << row.blocks << ": " << inside.reason;
    EXPECT_EQ(outside.verdict, Verdict::kFalls) << row.blocks << ": " << outside.reason;
  }
}

/// Eight courses of 0.45 x 0.25 in running bond, three blocks long, courses alternately whole and
/// beginning and ending with a half block.
Assembly wall(bool whole_at_bottom) {
  const double length = 0.45, height = 0.25, friction = 0.7, all = 3 * length;
  Assembly assembly;
  assembly.blocks = {ground()};
  struct Placed {
    int index;
    double x0, x1;
  };
  std::vector<Placed> below = {{0, -10, 10}};
  for (int course = 0; course < 8; ++course) {
    const double z = course * height;
    const bool whole = (course % 2 == 0) == whole_at_bottom;
    std::vector<Placed> here;
    for (double x = 0; x < all - 1e-9;) {
      const bool half = !whole && (x < 1e-9 || x > all - 0.6 * length);
      const double end = x + (half ? length / 2 : length);
      const int index = static_cast<int>(assembly.blocks.size());
      assembly.blocks.push_back(rectangle("b" + std::to_string(index), x, end, z, z + height));
      for (const Placed& lower : below) {
        const double from = std::max(x, lower.x0), to = std::min(end, lower.x1);
        if (to - from < 1e-9) continue;
        assembly.joints.push_back(bed_joint(lower.index, index, from, to, z, friction));
      }
      if (!here.empty()) {
        assembly.joints.push_back(head_joint(index - 1, index, x, z, z + height, friction));
      }
      here.push_back({index, x, end});
      x = end;
    }
    below = here;
  }
  return assembly;
}

// Source: computed independently (another linear program).
TEST(PublishedBlocks, WallInRunningBondPushedByItsOwnWeight) {
  const Assembly whole = wall(true), half = wall(false);
  ASSERT_EQ(whole.blocks.size(), 29u);  // 28 and the ground
  EXPECT_NEAR(limit_load(whole, pushed(kGravity)).load_factor.value(), 0.523088, 5e-5);
  EXPECT_NEAR(limit_load(half, pushed(kGravity)).load_factor.value(), 0.495087, 5e-5);
}

// Source: the same independent linear program; a law that does not lift what slides can carry no
// more than the associated figure, and what it carries is within every cone.
TEST(PublishedBlocks, WallByThePadsCarriesNoMoreThanTheAssociatedAnswer) {
  const Assembly whole = wall(true);
  const LoadCase push = pushed(kGravity);
  const PadModel model(whole, {});
  const double factor = pads_factor(model, push, {}, 0, 0.6);
  EXPECT_LE(factor, 0.523088 + 5e-5);
  EXPECT_GT(factor, 0.1125);  // by hand: a column half a block wide, 8 courses high, tips alone
  PadOptions there;
  there.load_factor = factor;
  const PadState state = model.solve(push, there);
  ASSERT_TRUE(state.found) << state.reason;
  EXPECT_LT(state.beyond_friction_rel, 1e-8);
  EXPECT_LT(state.residual_rel, 1e-8);
  RecordProperty("factor_by_the_pads", std::to_string(factor));
}

// The same bounds for blocks let go in time, the push raised until something moves off.
TEST(PublishedBlocks, WallLetGoCarriesNoMoreThanTheAssociatedAnswer) {
  Assembly whole = wall(true);
  for (Block& block : whole.blocks) {
    if (block.fixed) continue;
    const Vec3 half(block.mass.volume / 0.5, 0.5, 0.125);  // courses of 0.25, 1 m deep
    block.solid = box(block.mass.centroid - half, block.mass.centroid + half);
    block.mass = mass_properties(block.solid);
  }
  MotionOptions options;
  options.frames = 0;
  options.far_m = 0.05;
  CollapseOptions raise;
  raise.most = 1;
  raise.first = 0.1;
  const Collapse c = collapse_load(whole, pushed(kGravity), {}, options, raise);
  ASSERT_TRUE(c.held) << in_words(c);
  ASSERT_TRUE(c.moved_off) << in_words(c);
  EXPECT_LE(*c.held, 0.523088);
  EXPECT_GT(*c.held, 0.1125);  // by hand, as above
  RecordProperty("factor_let_go", in_words(c));
}

}  // namespace
}  // namespace skewback
