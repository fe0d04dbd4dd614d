#include "strength/strength.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "assembly/sample_arch.hpp"
#include "strength/checks.hpp"

namespace skewback {
namespace {

constexpr double kHigh = 0.4, kLong = 2, kThick = 0.5;  // of the block that is looked at

const BlockFinding* finding(const BlockChecks& checks, int block, const std::string& check) {
  for (const BlockFinding& f : checks.findings) {
    if (f.block == block && f.check == check) return &f;
  }
  return nullptr;
}

Brief stone() {
  Brief brief;
  brief.material = {0, 30e6};
  return brief;
}

/// Ground, a block 2 m long (y) and 0.5 m thick (x), and a shorter one on it.
Assembly stack(double upper_long, double upper_thick = kThick) {
  Assembly assembly;
  const auto add = [&](const Vec3& low, const Vec3& high, int course) {
    Block block;
    block.id = "b" + std::to_string(assembly.blocks.size());
    block.solid = box(low, high);
    block.density = 2400;
    block.fixed = course == 0;
    block.place.arm = 0;
    block.place.course = course;
    assembly.blocks.push_back(block);
  };
  add({-1, -2, -1}, {1, 2, 0}, 0);
  add({-kThick / 2, -kLong / 2, 0}, {kThick / 2, kLong / 2, kHigh}, 1);
  add({-upper_thick / 2, -upper_long / 2, kHigh}, {upper_thick / 2, upper_long / 2, 2 * kHigh}, 2);
  assembly.joints = detect_joints(assembly.blocks, 0.6);
  measure(assembly);
  return assembly;
}

BlockChecks checked(const Brief& brief, Assembly& assembly, const Vec3& point, const Vec3& force) {
  LoadCase load;
  load.id = "push";
  load.gravity = Vec3::Zero();
  load.live.push_back({2, point, force});
  assembly.cases = {load};
  CaseProof proof;
  proof.id = "push";
  proof.pads = pad_state(assembly, load);
  EXPECT_TRUE(proof.pads->found) << proof.pads->reason;
  return check_blocks(brief, assembly, {proof}, {{0, 1.35, 1.35, false}});
}

// Source: closed form, N/A (1 +- 6 e/h) within the middle third.
TEST(Strength, MiddleWithinTheKern) {
  Assembly assembly = stack(kLong);
  const double N = 3e6, e = 0.05, A = kLong * kThick;
  const BlockChecks checks = checked(stone(), assembly, {e, 0, 2 * kHigh}, {0, 0, -N});
  const BlockFinding* middle = finding(checks, 1, "middle");
  ASSERT_NE(middle, nullptr);
  EXPECT_NEAR(middle->demand / (N / A * (1 + 6 * e / kThick)), 1, 1e-6);
  EXPECT_NEAR(middle->resistance, 16e6, 1);
  EXPECT_EQ(finding(checks, 1, "layers")->demand, 0);
  EXPECT_NEAR(finding(checks, 1, "bed")->demand / middle->demand, 1, 1e-6);
  EXPECT_EQ(finding(checks, 1, "skin under the patch"), nullptr);
  EXPECT_FALSE(checks.proposal.has_value());
}

// Source: closed form. Beyond the middle third: 2 N / (3 b (h/2 - e)) without tension; uncracked,
// N/A (6 e/h - 1) of tension. By EN 1992-1-1 (12.2) the same N may be eta f_cd b h (1 - 2 e/h): at
// e = h/5 the linear rule allows three quarters of that.
TEST(Strength, MiddleBeyondTheKern) {
  Assembly assembly = stack(kLong);
  const double N = 3e6, e = kThick / 5, A = kLong * kThick;
  const BlockChecks checks = checked(stone(), assembly, {-e, 0, 2 * kHigh}, {0, 0, -N});
  const BlockFinding *middle = finding(checks, 1, "middle"), *layers = finding(checks, 1, "layers");
  EXPECT_NEAR(middle->demand / (2 * N / (3 * kLong * (kThick / 2 - e))), 1, 1e-6);
  EXPECT_NEAR(layers->demand / (N / A * (6 * e / kThick - 1)), 1, 1e-6);
  const double by_code = N / (16e6 * A * (1 - 2 * e / kThick));
  EXPECT_NEAR(by_code / middle->utilisation, 0.75, 1e-6);
}

// Source: EN 1992-1-1 (12.3), (12.4): 1.5 V / A_cc. The push of H moves the resultant at mid height
// by H (2 - 1/2) kHigh / N.
TEST(Strength, ShearOfASolidBlock) {
  Assembly assembly = stack(kLong);
  const double N = 3e6, H = 0.1e6, A = kLong * kThick;
  const BlockChecks checks = checked(stone(), assembly, {0, 0, 2 * kHigh}, {H, 0, -N});
  const BlockFinding* shear = finding(checks, 1, "shear");
  EXPECT_NEAR(shear->demand / (1.5 * H / A), 1, 1e-6);
  const double f = 1.08135e6;  // f_ctd,pl of C30
  EXPECT_NEAR(shear->resistance / std::sqrt(f * f + N / A * f), 1, 1e-4);
}

// Source: closed form for a rectangle, T (3 + 1.8 b/d) / (b^2 d) (Timoshenko, from memory)
// beside 1.5 V / A: a push H sideways at the end y of the top twists by H y.
TEST(Strength, TwistOfASolidBlock) {
  Assembly assembly = stack(kLong);
  const double N = 3e6, H = 0.05e6, y = 0.2, A = kLong * kThick;
  LoadCase load;
  load.id = "push";
  load.gravity = Vec3::Zero();
  load.live = {{2, {0, 0, 2 * kHigh}, {0, 0, -N}}, {2, {0, y, 2 * kHigh}, {H, 0, 0}}};
  assembly.cases = {load};
  CaseProof proof;
  proof.id = "push";
  proof.pads = pad_state(assembly, load);
  ASSERT_TRUE(proof.pads->found) << proof.pads->reason;
  const BlockChecks checks = check_blocks(stone(), assembly, {proof}, {{0, 1, 1, false}});
  const BlockFinding* twist = finding(checks, 1, "twist");
  ASSERT_NE(twist, nullptr);
  const double own = H * y * (3 + 1.8 * kThick / kLong) / (kThick * kThick * kLong);
  EXPECT_NEAR(twist->demand / (1.5 * H / A + own), 1, 1e-6);
}

// Source: closed form. A load over the middle 0.2 m of a beam of 0.5 m on even pressure: bending
// N (0.5 - 0.2) / 8 in its middle, section modulus kLong kHigh^2 / 6; rigid blocks press evenly.
TEST(Strength, AcrossOnUnevenBeds) {
  const double wide = 0.2, N = 1e5;
  Assembly assembly = stack(kLong, wide);
  const BlockChecks checks = checked(stone(), assembly, {0, 0, 2 * kHigh}, {0, 0, -N});
  const BlockFinding* across = finding(checks, 1, "across");
  ASSERT_NE(across, nullptr);
  const double moment = N * (kThick - wide) / 8, modulus = kLong * kHigh * kHigh / 6;
  EXPECT_NEAR(across->demand / (moment / modulus), 1, 1e-6) << across->place;
  // beds alone bend it, and it has no tubes
  EXPECT_NE(across->place.find("by its beds (100 % of it, roof and floor as a frame 0 %)"),
            std::string::npos)
      << across->place;
}

// Source: EN 1992-1-1 (6.58), T = F/4 (1 - a/b) behind a strip of a on a width of b; its stress as
// a parabola over 0.8 b has the peak 1.5 T / (0.8 b).
TEST(Strength, BurstingBehindAStrip) {
  const double a = 0.2, N = 1e6;
  Assembly assembly = stack(kLong, a);
  const BlockChecks checks = checked(stone(), assembly, {0, 0, 2 * kHigh}, {0, 0, -N});
  const BlockFinding* bursting = finding(checks, 1, "bursting");
  ASSERT_NE(bursting, nullptr);
  const double T = 0.25 * N / kLong * (1 - a / kThick);
  EXPECT_NEAR(bursting->demand / (1.5 * T / (0.8 * kThick)), 1, 1e-6);
  EXPECT_EQ(finding(checks, 2, "bursting"), nullptr);
}

// Source: table 3.1 and 12.3.1 of EN 1992-1-1: f_ctd,pl of C30 is 1.08135 MPa; between layers half
// of it. With f the lower one, (12.5) gives sqrt(f^2 + sigma f).
TEST(Strength, SolidBlocksThatArePrintedHaveLayers) {
  Assembly assembly = stack(kLong);
  const double N = 3e6, H = 0.1e6, A = kLong * kThick, f = 1.08135e6 / 2;
  Brief brief = stone();
  brief.print.wanted = true;
  const BlockChecks checks = checked(brief, assembly, {-kThick / 5, 0, 2 * kHigh}, {H, 0, -N});
  EXPECT_NEAR(finding(checks, 1, "layers")->resistance, f, 10);
  Assembly even = stack(kLong);
  const BlockChecks pushed = checked(brief, even, {0, 0, 2 * kHigh}, {H, 0, -N});
  EXPECT_NEAR(finding(pushed, 1, "shear")->resistance / std::sqrt(f * f + N / A * f), 1, 1e-4);
  const auto says = [](const BlockChecks& all, const std::string& words) {
    return std::ranges::any_of(
        all.remarks, [&](const std::string& r) { return r.find(words) != std::string::npos; });
  };
  EXPECT_FALSE(says(checks, "without layers"));
  EXPECT_TRUE(says(checks, "cast instead"));
  EXPECT_TRUE(says(checks, "half of f_ctk,0.05"));
  EXPECT_TRUE(says(checked(stone(), even, {0, 0, 2 * kHigh}, {0, 0, -N}), "without layers"));
}

// Layers of a key laid flat run along its thrust: what bursts it pulls them apart.
TEST(Strength, BurstingOfAKeyLaidFlat) {
  CheckedBlock block;
  BlockView view;
  view.block = 1;
  view.joints = {1};
  block.view = &view;
  Assembly assembly = stack(kLong, 0.2);
  CaseInput input;
  input.joints.resize(assembly.joints.size());
  input.joints[1].peak_pa = 1e6;
  input.concrete = {16e6, 1.0e6, 0.5e6};
  for (const bool flat : {false, true}) {
    block.worst = {};
    block.may_lie_flat = flat;
    check_bursting(assembly, input, {0.3}, block);
    const auto& found = block.worst.of(Check::kBursting);
    ASSERT_TRUE(found.has_value());
    EXPECT_DOUBLE_EQ(found->resistance, flat ? 0.5e6 : 1.0e6);
    EXPECT_DOUBLE_EQ(found->utilisation, flat ? 0.6 : 0.3);
  }
}

/// Two blocks along y with two tubes, 1 m wide and 0.4 m deep; the middle web thinner than the
/// sides.
Assembly tubes(double leaf) {
  Assembly assembly;
  Block ground;
  ground.id = "g";
  ground.fixed = true;
  ground.place.arm = 0;
  ground.solid = box({-1, -1, -1}, {1, 0, 1});
  assembly.blocks.push_back(ground);
  for (int i = 0; i < 2; ++i) {
    Block block;
    block.id = "t" + std::to_string(i);
    block.density = 2250;
    block.place.arm = 0;
    block.place.course = i + 1;
    Solid solid = box({-0.5, 0.5 * i, -0.2}, {0.5, 0.5 * (i + 1), 0.2});
    for (const double x : {-0.45, 0.02})
      solid = subtract(solid, box({x, -9, -0.15}, {x + 0.43, 9, 0.2 - leaf})).value();
    block.solid = solid;
    assembly.blocks.push_back(block);
  }
  assembly.joints = detect_joints(assembly.blocks, 0.6);
  measure(assembly);
  return assembly;
}

TEST(Strength, CellsOfAHollowBlock) {
  const Assembly assembly = tubes(0.06);
  const std::vector<BlockView> views = view_blocks(assembly);
  ASSERT_EQ(views.size(), 2U);
  const BlockView& view = views[0];
  EXPECT_FALSE(view.key);
  ASSERT_EQ(view.cells.size(), 2U);
  for (const Cell& cell : view.cells) {
    EXPECT_NEAR(cell.x1 - cell.x0, 0.43, 1e-9);
    EXPECT_NEAR(cell.leaf_m, 0.06, 1e-9);
    EXPECT_NEAR(cell.height_m, 0.29, 1e-9);
    EXPECT_NEAR(cell.length_m, 0.5, 1e-9);
  }
  EXPECT_TRUE(view.cells[0].outer_low);
  EXPECT_FALSE(view.cells[0].outer_high);
  EXPECT_NEAR(view.cells[0].web_low_m, 0.05, 1e-9);
  EXPECT_NEAR(view.cells[0].web_high_m, 0.04, 1e-9);
  EXPECT_EQ(view.across.size(), 2U);
  EXPECT_EQ(view.across[0].section.size(), 2U);
}

// Everything that acts on a block of an arch adds up to nothing, and so does it in front of a plane
// and behind it together.
TEST(Strength, ForcesOnABlockBalance) {
  Assembly assembly = sample::arch_assembly({});
  const PadState state = pad_state(assembly, assembly.cases[0]);
  ASSERT_TRUE(state.found) << state.reason;
  const std::vector<JointLoad> loads = joint_loads(assembly, state);
  const Brief brief = stone();
  for (const BlockView& view : view_blocks(assembly)) {
    const Block& block = assembly.blocks[static_cast<std::size_t>(view.block)];
    const double weight = mass_kg(block) * 9.81;
    Frame f = frame_on({block.mass.centroid - 50 * Vec3::UnitX(), Vec3::UnitX()});
    const Resultant all = in_front(brief, assembly, view.joints, assembly.cases[0], loads,
                                   cut_block(assembly, view.block, f), Vec3::Zero());
    EXPECT_NEAR(all.force.norm() / weight, 0, 1e-6) << block.id;
    EXPECT_NEAR(all.moment.norm() / weight, 0, 1e-5) << block.id;
    for (const BlockCut& cut : view.middles) {
      Frame turned = cut.frame;
      turned.z = -turned.z;
      turned.x = -turned.x;
      const BlockCut back = cut_block(assembly, view.block, turned);
      const Resultant a = in_front(brief, assembly, view.joints, assembly.cases[0], loads, cut,
                                   Vec3::Zero()),
                      b = in_front(brief, assembly, view.joints, assembly.cases[0], loads, back,
                                   Vec3::Zero());
      EXPECT_NEAR((a.force + b.force).norm() / weight, 0, 1e-6) << block.id;
      EXPECT_NEAR((a.moment + b.moment).norm() / weight, 0, 1e-6) << block.id;
    }
  }
}

// Source: closed form, 6 q h / b^2 with the factor on other loads.
TEST(Strength, UpstandUnderThePush) {
  Assembly assembly = stack(kLong);
  Brief brief = stone();
  brief.parapet.working = {0};
  brief.parapet.upstand_height_m = 0.5;
  brief.parapet.upstand_width_m = 0.2;
  const BlockChecks checks = checked(brief, assembly, {0, 0, 2 * kHigh}, {0, 0, -1e6});
  const BlockFinding* upstand = finding(checks, 1, "upstand");
  ASSERT_NE(upstand, nullptr);
  EXPECT_NEAR(upstand->demand, 6 * 1.5 * 1000 * 0.5 / 0.04, 1e-6);
  EXPECT_NEAR(upstand->resistance, 1.08135e6 * 1.4, 20);
}

// What is proposed passes, and one step less of leaf at that spacing does not.
TEST(Strength, ProposedSkin) {
  Assembly assembly = tubes(0.04);
  Brief brief = stone();
  brief.section = {0.4, 0.4, true, 0.04, 0.04, 0.47};
  brief.loads.people_pa = 5e3;
  LoadCase load;
  load.id = "push";
  load.gravity = Vec3::Zero();
  load.live.push_back({2, {0, 1, 0}, {0, -2e5, 0}});
  assembly.cases = {load};
  CaseProof proof;
  proof.id = "push";
  proof.pads = pad_state(assembly, load);
  ASSERT_TRUE(proof.pads->found) << proof.pads->reason;
  const BlockChecks checks = check_blocks(brief, assembly, {proof}, {{0, 1.35, 1.35, false}});
  const BlockFinding* skin = finding(checks, 1, "skin under the patch");
  ASSERT_NE(skin, nullptr);
  EXPECT_GT(skin->utilisation, 1);
  ASSERT_TRUE(checks.proposal.has_value());
  EXPECT_LE(checks.proposal->utilisation_then, 1);
  EXPECT_GT(checks.proposal->utilisation_then, 0.5);
  EXPECT_GT(checks.proposal->leaf_m, 0.04);
  EXPECT_NEAR(checks.proposal->utilisation_now, skin->utilisation, 1e-9);
}

TEST(Strength, CasesWithoutAStateAreNamed) {
  const Assembly assembly = stack(kLong);
  CaseProof proof;
  proof.id = "nothing";
  const BlockChecks checks = check_blocks(stone(), assembly, {proof}, {{0, 1, 1, false}});
  ASSERT_FALSE(checks.remarks.empty());
  EXPECT_NE(checks.remarks.front().find("nothing"), std::string::npos);
  EXPECT_EQ(checks.worst, -1);
}

}  // namespace
}  // namespace skewback
