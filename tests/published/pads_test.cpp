// Joints on elastic pads against closed forms.

#include <gtest/gtest.h>

#include <cmath>

#include "blocks.hpp"
#include "stand/stand.hpp"

namespace skewback {
namespace {

constexpr double kStiff = 2e9;  // Pa/m

Joint on_pad(Joint joint, double kn = kStiff, double ks = 0.4 * kStiff) {
  joint.pad = Pad{0.008, kn, ks};
  return joint;
}

PadState state_of(const Assembly& assembly, const LoadCase& load, const PadOptions& options = {}) {
  return pad_state(assembly, load, {}, options);
}

/// A block whose weight acts off the middle of its bed by (ex, ey).
Assembly leaning(double b, double h, double ex, double ey) {
  Assembly assembly;
  Block block = rectangle("block", -0.5, 0.5, 0, 1);
  block.mass.centroid = {ex, ey, 0.5};
  Joint joint = on_pad(bed_joint(0, 1, 0, 1, 0, 0.6));
  joint.contact = {{{{-b / 2, -h / 2}, {b / 2, -h / 2}, {b / 2, h / 2}, {-b / 2, h / 2}}, {}}};
  assembly.blocks = {ground(), block};
  assembly.joints = {joint};
  return assembly;
}

// Closed form, any text on strength of materials: rectangle b by h under N at e from its middle,
// no tension. e <= h/6: N/(b h) (1 + 6 e / h); else depth 3 (h/2 - e), peak 2 N / (3 b (h/2 - e)).
TEST(PublishedPads, EccentricRectangle) {
  const double b = 0.9, h = 0.36, N = 2000 * kGravity;
  for (const double share : {0.0, 0.05, 0.1, 1.0 / 6, 0.2, 0.3, 0.4, 0.45, 0.49}) {
    const double e = share * h;
    const double peak =
        share <= 1.0 / 6 ? N / (b * h) * (1 + 6 * share) : 2 * N / (3 * b * (h / 2 - e));
    const double depth = share <= 1.0 / 6 ? h : 3 * (h / 2 - e);
    for (const bool along_y : {false, true}) {
      const Assembly assembly = along_y ? leaning(b, h, 0, e) : leaning(h, b, e, 0);
      const PadState state = state_of(assembly, dead());
      ASSERT_TRUE(state.found) << state.reason << ", e/h " << share;
      EXPECT_TRUE(state.sticks);
      EXPECT_NEAR(state.peak_pa / peak, 1, 1e-6) << "e/h " << share;
      EXPECT_NEAR(state.joints[0].normal_n / N, 1, 1e-9);
      // opening at the far edge over closing at the near one: (h - depth) / depth
      if (share > 0.17) {
        EXPECT_NEAR(state.joints[0].opening_max_m / state.joints[0].closing_max_m,
                    (h - depth) / depth, 1e-6);
      }
      EXPECT_LE(state.residual_rel, 1e-9);
    }
  }
}

// Closed form: sag m g / (k A).
TEST(PublishedPads, SagOfOneBlock) {
  Assembly assembly;
  Block block = rectangle("block", 0, 1, 0, 0.5);
  block.density = 2300;
  assembly.blocks = {ground(), block};
  assembly.joints = {on_pad(bed_joint(0, 1, 0, 1, 0, 0.6))};
  const PadState state = state_of(assembly, dead());
  ASSERT_TRUE(state.found) << state.reason;
  EXPECT_NEAR(-state.moves[1].v.z(), 2300 * 0.5 * 9.81 / 2e9, 1e-12);
}

// Closed form: a rigid beam on three beds of unequal stiffness. Sinks z and turns t with
// sum k (z + t x) = W, sum k x (z + t x) = W xg.
TEST(PublishedPads, BeamOnThreeBeds) {
  const double side = 0.02;
  const double x[3] = {-1.5, 0.2, 1.8}, k[3] = {1e9, 3e9, 2e9};
  Assembly assembly;
  assembly.blocks = {ground(), rectangle("beam", -2, 2.4, 0, 0.3)};
  for (int i = 0; i < 3; ++i) {
    assembly.joints.push_back(
        on_pad(bed_joint(0, 1, x[i] - side / 2, x[i] + side / 2, 0, 0.6), k[i]));
  }
  const double W = mass_kg(assembly.blocks[1]) * kGravity, xg = 0.2;
  double s0 = 0, s1 = 0, s2 = 0;
  for (int i = 0; i < 3; ++i) {
    const double stiffness = k[i] * side;
    s0 += stiffness;
    s1 += stiffness * x[i];
    s2 += stiffness * (x[i] * x[i] + side * side / 12);  // turning of each bed itself
  }
  const double t = (W * xg - W * s1 / s0) / (s2 - s1 * s1 / s0), z = (W - s1 * t) / s0;
  const PadState state = state_of(assembly, dead());
  ASSERT_TRUE(state.found) << state.reason;
  for (int i = 0; i < 3; ++i) {
    EXPECT_NEAR(state.joints[static_cast<std::size_t>(i)].normal_n, k[i] * side * (z + t * x[i]),
                1e-6 * W);
  }
}

// Closed form: blocks of weight W on pads of stiffness k A. The lower has sunk by W / k A when the
// upper is laid on it; then it sinks as much again, and the upper goes with that and closes its own
// pad: 2 W / k A. Both put on at once: 3 W / k A.
TEST(PublishedPads, LaidOnWhatHasSunk) {
  Assembly assembly;
  assembly.blocks = {ground(), rectangle("lower", 0, 1, 0, 0.5), rectangle("upper", 0, 1, 0.5, 1)};
  assembly.joints = {on_pad(bed_joint(0, 1, 0, 1, 0, 0.6)),
                     on_pad(bed_joint(1, 2, 0, 1, 0.5, 0.6))};
  const double each = mass_kg(assembly.blocks[1]) * kGravity / kStiff;
  StandOptions first;
  first.present = {1, 1, 0};
  PadHistory nothing;
  nothing.placed.assign(3, 0);
  nothing.moves.resize(3);
  const PadState lower = PadModel(assembly, first).solve(dead(), {}, &nothing);
  ASSERT_TRUE(lower.found) << lower.reason;
  const PadState both = PadModel(assembly, {}).solve(dead(), {}, &lower.after);
  ASSERT_TRUE(both.found) << both.reason;
  EXPECT_NEAR(-both.moves[1].v.z() / each, 2, 1e-9);
  EXPECT_NEAR(-both.moves[2].v.z() / each, 2, 1e-9);
  EXPECT_NEAR(-state_of(assembly, dead()).moves[2].v.z() / each, 3, 1e-9);
}

// Closed form: a push of 0.3 W on a low block sticks at friction 0.6 and moves its bed by 0.3 W
// over the stiffness along it; let go, it springs back and no shear is left.
TEST(PublishedPads, WhatSticksSpringsBack) {
  Assembly assembly;
  assembly.blocks = {ground(), rectangle("block", 0, 1, 0, 0.2)};
  assembly.joints = {on_pad(bed_joint(0, 1, 0, 1, 0, 0.6))};
  const double k_shear = 0.4 * kStiff, W = mass_kg(assembly.blocks[1]) * kGravity;
  LoadCase push = dead();
  push.live_acceleration = {0.3 * kGravity, 0, 0};
  const PadState pushed = state_of(assembly, push);
  ASSERT_TRUE(pushed.found) << pushed.reason;
  EXPECT_TRUE(pushed.sticks);
  EXPECT_NEAR(pushed.joints[0].shear_n / W, 0.3, 1e-9);
  const BlockVelocity& move = pushed.moves[1];
  EXPECT_NEAR((move.v + move.w.cross(Vec3(0.5, 0, 0))).x(), 0.3 * W / k_shear, 1e-6 * W / k_shear);
  const PadState back = PadModel(assembly, {}).solve(dead(), {}, &pushed.after);
  ASSERT_TRUE(back.found) << back.reason;
  EXPECT_NEAR(back.joints[0].shear_n / W, 0, 1e-8);
}

/// A block on a plane that rises along x at a slope.
Assembly on_slope(double tan_slope, double friction) {
  const double angle = std::atan(tan_slope);
  const Vec3 up(-std::sin(angle), 0, std::cos(angle)), along(std::cos(angle), 0, std::sin(angle));
  Assembly assembly;
  Block block = rectangle("block", -0.5, 0.5, 0, 0.2);
  block.mass.centroid = 0.1 * up;
  Joint joint = on_pad(bed_joint(0, 1, -0.5, 0.5, 0, friction));
  joint.frame = {Vec3::Zero(), along, up.cross(along), up};
  assembly.blocks = {ground(), block};
  assembly.joints = {joint};
  return assembly;
}

// Coulomb: a block stays on a slope while its tangent is less than the coefficient.
TEST(PublishedPads, SlopeOfFriction) {
  for (const double mu : {0.2, 0.4, 0.7}) {
    const PadState stays = state_of(on_slope(0.995 * mu, mu), dead());
    ASSERT_TRUE(stays.found) << stays.reason;
    EXPECT_NEAR(stays.friction_used, 0.995 * mu, 1e-6);
    EXPECT_FALSE(state_of(on_slope(1.005 * mu, mu), dead()).found);
  }
}

// Closed form: a rigid column of weight W with its middle h over a pad of turning stiffness k falls
// over when W h > k, however small the push. k = kn / 12 for 1 m by 1 m; W h = 981 kN m.
TEST(PublishedPads, ATallColumnOnSoftPadsIsNotCalledStanding) {
  for (const double kn : {8e6, 1e9}) {
    Assembly assembly;
    Block ground, column;
    ground.id = "ground";
    ground.fixed = true;
    ground.density = 2000;
    ground.solid = box({-1, -1, -1}, {2, 2, 0});
    column.id = "column";
    column.density = 2000;
    column.solid = box({0, 0, 0}, {1, 1, 10});
    assembly.blocks = {ground, column};
    assembly.joints = detect_joints(assembly.blocks, 0.6);
    for (Joint& joint : assembly.joints) joint.pad = Pad{0.02, kn, kn};
    measure(assembly);
    LoadCase push;
    push.id = "push";
    push.live = {{1, {0.5, 0.5, 5}, {6000, 0, 0}}};  // 30 kN m: within the middle third
    assembly.cases = {push};
    const CaseProof proof = prove(assembly, push);
    ASSERT_TRUE(proof.pads && proof.pads->found) << proof.reason;  // on the drawn shape it balances
    EXPECT_EQ(proof.verdict, kn / 12 > 981e3 ? Verdict::kStands : Verdict::kUndecided)
        << kn << ": " << proof.reason;
  }
}

// Logic: nothing clamps a block that is only put between two walls, so it falls, whatever the
// friction; a view that looks for any forces accepts it.
TEST(PublishedPads, BlockBetweenWalls) {
  Assembly assembly;
  Block left = ground(), right = ground();
  left.id = "left wall";
  right.id = "right wall";
  assembly.blocks = {left, rectangle("block", 0, 1, 0, 1), right};
  assembly.joints = {on_pad(head_joint(0, 1, 0, 0, 1, 0.9)),
                     on_pad(head_joint(1, 2, 1, 0, 1, 0.9))};
  EXPECT_EQ(limit_load(assembly, dead()).verdict, Verdict::kStands);  // what view 1 says
  EXPECT_FALSE(state_of(assembly, dead()).found);
  EXPECT_EQ(prove(assembly, dead()).verdict, Verdict::kUndecided);  // what both say
  // Clamped by warmth it is held while 2 mu N > W; two pads share a L T, so N = k A a L T / 2.
  const double W = mass_kg(assembly.blocks[1]) * kGravity;
  PadOptions warm;
  warm.expansion = 1e-5;
  const double needed_k = W / (2 * 0.9) * 2 / (kStiff * 1e-5 * 1.0);
  warm.warmer_k = 1.02 * needed_k;
  const PadState held = state_of(assembly, dead(), warm);
  ASSERT_TRUE(held.found) << held.reason;
  EXPECT_NEAR(held.joints[0].normal_n, kStiff * 1e-5 * warm.warmer_k / 2, 1e-6 * W);
  warm.warmer_k = 0.98 * needed_k;
  EXPECT_FALSE(state_of(assembly, dead(), warm).found);
}

/// Two rigid halves that touch at narrow joints at springings and crown: span L, rise f, weight w
/// per metre of span, one metre deep. Joints lie square to the thrust, so that nothing slides.
Assembly three_hinges(double L, double f, double w) {
  const double H = w * L * L / (8 * f), V = w * L / 2, touch = 1e-4, wide = 0.02;
  Assembly assembly;
  Block left = ground(), right = ground();
  left.id = "left";
  right.id = "right";
  const auto half = [&](const char* id, double x) {
    Block block;
    block.id = id;
    block.density = w / kGravity;
    block.mass.volume = L / 2;
    block.mass.centroid = {x, 0, f / 2};
    return block;
  };
  assembly.blocks = {left, half("half a", -L / 4), half("half b", L / 4), right};
  const auto add = [&](int a, int b, const Vec3& at, const Vec3& along) {
    Joint joint = on_pad(bed_joint(a, b, -0.5, 0.5, 0, 0.6), 1e17, 4e16);
    joint.frame.origin = at;
    joint.frame.z = along.normalized();
    joint.frame.x = Vec3::UnitY();
    joint.frame.y = joint.frame.z.cross(joint.frame.x);
    const Vec2 half_size(wide / 2, touch / 2), other(wide / 2, -touch / 2);
    joint.contact = {{{-half_size, other, half_size, -other}, {}}};
    assembly.joints.push_back(joint);
  };
  add(0, 1, {-L / 2, 0, 0}, {H, 0, V});
  add(1, 2, {0, 0, f}, {1, 0, 0});
  add(2, 3, {L / 2, 0, 0}, {H, 0, -V});
  return assembly;
}

// Closed form for rigid halves on three hinges: H = w L^2 / 8 f; a spread dL of the springings
// lowers the crown by L / (4 f) dL at first order; exactly, with half chord l and half span
// s = L/2 + dL/2, by f - sqrt(l^2 - s^2), and H grows with the flatter shape.
TEST(PublishedPads, SpreadOfThreeHinges) {
  const double L = 14, f = 1.75, w = 8000, spread = 0.010;
  const Assembly arch = three_hinges(L, f, w);
  PadOptions options;
  options.moves = {{.block = 0, .shift = {-spread / 2, 0, 0}},
                   {.block = 3, .shift = {spread / 2, 0, 0}}};
  const auto drop = [&](const PadState& state) {
    const BlockVelocity& half = state.moves[1];
    return -(half.v + half.w.cross(Vec3(0, 0, f))).z();
  };
  const PadState first = state_of(arch, dead(), options);
  ASSERT_TRUE(first.found) << first.reason;
  EXPECT_NEAR(drop(first), L / (4 * f) * spread, 2e-5);
  EXPECT_NEAR(first.joints[1].normal_n / (w * L * L / (8 * f)), 1, 1e-4);

  options.moved_shape = true;
  const PadState moved = state_of(arch, dead(), options);
  ASSERT_TRUE(moved.found) << moved.reason;
  const double chord2 = L * L / 4 + f * f, s = (L + spread) / 2, flat = std::sqrt(chord2 - s * s);
  const double H = w * L / 2 * (s / 2) / flat;  // weight of a half about its springing
  ASSERT_TRUE(moved.flattening.has_value());
  EXPECT_NEAR(*moved.flattening, (f - flat) / (L / (4 * f) * spread), 2e-3);
  EXPECT_NEAR(moved.joints[1].normal_n / H, 1, 1e-4);
}

}  // namespace
}  // namespace skewback
