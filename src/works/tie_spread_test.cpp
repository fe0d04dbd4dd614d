#include "works/tie_spread.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "base/constants.hpp"
#include "works/feet_system.hpp"
#include "works/required_site.hpp"

namespace skewback {
namespace {

/// Two rigid halves of a three-hinged arch, span 14 m, rise 1.75 m: only their weight
/// matters, and narrow contacts at the hinges. Each half weighs w L/2 with
/// its centre of gravity over the quarter point, like the evenly spread load of a parabolic arch.
struct Hinged {
  double span = 14, rise = 1.75, width = 1, load = 8e3;  // N per metre of span
  Brief brief;
  Assembly assembly;
  Groundworks ground;

  Joint hinge(int a, int b, const Vec3& at, const Vec3& way) const {
    Joint joint;
    joint.a = a;
    joint.b = b;
    joint.friction = 2;
    joint.pad = Pad{1e-3, 1e13, 1e13};
    joint.frame = frame_on({at, way.normalized()});
    const double half = 0.5e-3;
    joint.contact = {
        {{{-width / 2, -half}, {width / 2, -half}, {width / 2, half}, {-width / 2, half}}, {}}};
    return joint;
  }

  Hinged() {
    brief.plan.supports = {{"west", {0, 0.5}, {0, -0.5}, 0},
                           {"east", {span, -0.5}, {span, 0.5}, 0}};
    const double mass = load * span / 2 / kGravity;
    for (int side = 0; side < 2; ++side) {
      Block half;
      half.id = side == 0 ? "left" : "right";
      const double x = side == 0 ? span / 4 : 3 * span / 4;
      half.solid = box({x - 0.5, -0.5, 0.375}, {x + 0.5, 0.5, 1.375});  // on the chord
      half.density = mass;
      assembly.blocks.push_back(half);
    }
    for (int side = 0; side < 2; ++side) {
      Block foot;
      foot.id = side == 0 ? "ground-west" : "ground-east";
      const double x = side == 0 ? -0.5 : span + 0.5;
      foot.solid = box({x - 0.5, -0.5, -1}, {x + 0.5, 0.5, 0});
      foot.density = 2400;
      foot.fixed = true;
      foot.place.arm = side;
      assembly.blocks.push_back(foot);
    }
    const double v = load * span / 2, h = load * span * span / (8 * rise);
    assembly.joints = {hinge(2, 0, {0, 0, 0}, {h, 0, v}),
                       hinge(0, 1, {span / 2, 0, rise}, {1, 0, 0}),
                       hinge(1, 3, {span, 0, 0}, {h, 0, -v})};
    LoadCase dead;
    dead.id = "dead";
    assembly.cases = {dead};
    measure(assembly);
    ground.laid = {{"tie", 0, 1, 2, 0.6, -0.3}};
    ground.ties = {{.id = "tie", .diameter_m = 0.030, .length_m = span}};
  }
};

double crown_drop(const Hinged& arch, const PadState& state) {
  const BlockVelocity& u = state.moves[0];
  return -(u.v + u.w.cross(Vec3(arch.span / 2, 0, arch.rise))).z();
}

double thrust(const PadState& state) {
  double sum = 0;
  for (const ContactForce& c : state.forces.contacts) sum += c.joint == 0 ? c.force.x() : 0;
  return sum;
}

// Geometry of two rigid halves: L 14, f 1.75, 10 mm of spread drop the crown by L dL / 4f = 20.0
// mm, exactly 20.123 mm; the thrust of weights that stay in the middle of each half grows from
// 112.0 to W L' / 4 f' = 56 x 14.01 / (4 x 1.729877) = 113.38 kN.
TEST(TieSpread, TenMillimetresOnAThreeHingedArch) {
  const Hinged arch;
  const PadModel model(arch.assembly, {});
  PadOptions pads;
  const PadState still = model.solve(arch.assembly.cases[0], pads);
  ASSERT_TRUE(still.found) << still.reason;
  EXPECT_NEAR(thrust(still) / 1e3, 112.0, 0.1);
  pads.moves = {{.block = 2, .shift = {-0.005, 0, 0}}, {.block = 3, .shift = {0.005, 0, 0}}};
  const PadState small = model.solve(arch.assembly.cases[0], pads);
  ASSERT_TRUE(small.found) << small.reason;
  EXPECT_NEAR((crown_drop(arch, small) - crown_drop(arch, still)) * 1e3, 20.0, 0.01);
  pads.moved_shape = true;
  const PadState moved = model.solve(arch.assembly.cases[0], pads);
  ASSERT_TRUE(moved.found) << moved.reason;
  EXPECT_NEAR(thrust(moved) / 1e3, 113.38, 0.1);
}

// Statics: H = w L^2 / 8 f = 112 kN, half of it to a rod; it stretches by H L / (2 E A) = 5.28 mm.
// Two rigid halves drop by L / 4f times the spread (small movements), here twice.
TEST(TieSpread, ThreeHingedArchDropsByItsFlatness) {
  const Hinged arch;
  SpreadOptions fine;
  fine.still_m = 1e-8;
  const SpreadModel model(arch.brief, arch.assembly, {}, arch.ground, fine);
  const SpreadState state = model.spread(arch.assembly.cases[0], Tightened::kNot, 0);
  ASSERT_TRUE(state.settled) << state.reason;
  EXPECT_NEAR(state.rod_force_n[0][0], 56e3, 0.002 * 56e3);
  EXPECT_NEAR(state.rod_force_n[0][1], 56e3, 0.002 * 56e3);
  const double area = kPi / 4 * 0.030 * 0.030;
  EXPECT_NEAR(state.spread_m, 56e3 * 14 / (210e9 * area), 0.002 * state.spread_m);
  // the centre of gravity of a half, at the quarter point, drops half as much as the crown
  EXPECT_NEAR(2 * state.crown_drop_spread_m, 14 / (4 * 1.75) * state.spread_m,
              0.002 * state.spread_m);
}

// The dead load's own stretch, taken out, leaves the feet where they were drawn.
TEST(TieSpread, TightenedAtStrikingTheDeadLoadDoesNotSpread) {
  const Hinged arch;
  const SpreadModel model(arch.brief, arch.assembly, {}, arch.ground);
  const SpreadState state = model.spread(arch.assembly.cases[0], Tightened::kAtStriking, 0);
  EXPECT_NEAR(state.rod_force_n.at(0).at(0), 56e3, 0.002 * 56e3);
  ASSERT_TRUE(state.settled) << state.reason;
  EXPECT_NEAR(state.spread_m, 0, 0.05e-3);
}

// By hand: 100 kN on 11 m of 30 mm rod (706.86 mm2, E 210 GPa): 7.410 mm; 30 K at 12e-6: 3.960 mm;
// held back, those 30 K pull 53.44 kN.
TEST(FeetSystem, OneRod) {
  Hinged arch;
  arch.brief.plan.supports[1].a.x() = arch.brief.plan.supports[1].b.x() = 11;
  arch.ground.laid[0].rods = 1;
  const FeetSystem feet = feet_system(arch.brief, arch.assembly, arch.ground);
  ASSERT_EQ(feet.stiffness.size(), 1);
  EXPECT_NEAR(100e3 / feet.stiffness[0] * 1e3, 7.410, 5e-4);
  EXPECT_NEAR(kSteelExpansion * 30 * feet.rods[0].length() * 1e3, 3.960, 1e-9);
  EXPECT_NEAR(feet.stiffness[0] * 3.960e-3 / 1e3, 53.44, 5e-3);
  // feet 1 mm apart each way: 2 mm longer; as one rigid body: nothing
  Eigen::VectorXd apart = Eigen::VectorXd::Zero(6);
  apart[0] = -1e-3;
  apart[3] = 1e-3;
  EXPECT_NEAR((feet.stretch * apart)[0], 2e-3, 1e-15);
  EXPECT_EQ(feet.relative.cols(), 3);
  EXPECT_NEAR(feet.relative.row(0).norm(), feet.relative.row(3).norm(), 1e-12);
}

// A sideways load on the crown: rods between two feet cannot hold it, the ground is left with it.
TEST(TieSpread, WhatRodsCannotHoldIsLeftToTheGround) {
  Hinged arch;
  LoadCase push;
  push.id = "push";
  push.live = {{0, {3.5, 0, 0.875}, {0, 5e3, 0}}};
  arch.assembly.cases.push_back(push);
  const TieSpread all = tie_spread(arch.brief, arch.assembly, {}, arch.ground);
  const auto states = held_by_rods(all, Tightened::kAtStriking);
  ASSERT_EQ(states.size(), 2u);
  EXPECT_TRUE(states[0].balanced);
  EXPECT_FALSE(states[1].balanced);
  double sum = 0;
  for (const Vec3& left : states[1].ground_shear_n) sum += left.y();
  EXPECT_NEAR(sum, -5e3, 1);
}

// Springings press with sqrt(112^2 + 56^2) = 125.2 kN on 1 m x 1 mm: 125.2 MPa, the crown with 112.
// Of a joint that may take 100 MPa that is 1.252; of 130, 0.963.
TEST(TieSpread, JointsAreJudgedByWhatTheyMayTake) {
  Hinged arch;
  const auto state = [&](double takes_pa) {
    arch.brief.required.pad_stress_pa = takes_pa;
    const SpreadModel model(arch.brief, arch.assembly, {}, arch.ground);
    return model.spread(arch.assembly.cases[0], Tightened::kAtStriking, 0);
  };
  const SpreadState over = state(100e6), within = state(130e6);
  ASSERT_TRUE(over.settled && within.settled) << over.reason << within.reason;
  EXPECT_NEAR(over.pressed, 1.252, 0.01);
  EXPECT_NE(over.over.find("and takes 100.0"), std::string::npos) << over.over;
  EXPECT_NEAR(within.pressed, 0.963, 0.01);
  EXPECT_EQ(within.over, "");
}

// By the brief a joint takes 7.0 MPa: 9.96 of the full load on stretched ties is no state that
// holds; 24.5 on rods that nobody tightened is no state that is asked for.
TEST(TieSpread, StatesOnTiesAreRequiredToHold) {
  SpreadState dead, full, slack, cold;
  dead.case_id = "dead";
  dead.settled = true;
  dead.peak_pa = 5.6e6;
  dead.pressed = 0.8;
  full = dead;
  full.case_id = "full";
  full.peak_pa = 9.96e6;
  full.pressed = 9.96 / 7.0;
  full.over = "joint v1 | v2 is pressed by 10.0 MPa and takes 7.0";
  slack = full;
  slack.tightened = Tightened::kNot;
  cold = dead;
  cold.settled = false;
  cold.warmer_k = -20;
  cold.reason = "feet, rods and pads did not settle";
  Dossier d;
  d.tried = tried_on_ties({dead});
  EXPECT_TRUE(required_other_states(d)->passes.value());
  d.tried = tried_on_ties({dead, full, slack});
  ASSERT_EQ(d.tried.size(), 2u);
  auto check = required_other_states(d);
  EXPECT_FALSE(check->passes.value());
  EXPECT_DOUBLE_EQ(check->value.value(), 0.5);
  EXPECT_EQ(check->note, "feet on their ties, tightened at striking, case full: " + full.over);
  d.tried = tried_on_ties({dead, cold});
  check = required_other_states(d);
  EXPECT_FALSE(check->passes.value());
  EXPECT_EQ(check->note,
            "feet on their ties, tightened at striking, 20 K colder, case dead: " + cold.reason);
}

TEST(TieSpread, NothingWithoutTies) {
  Hinged arch;
  arch.ground.laid.clear();
  arch.ground.ties.clear();
  const TieSpread none = tie_spread(arch.brief, arch.assembly, {}, arch.ground);
  EXPECT_TRUE(none.states.empty());
  EXPECT_FALSE(none.remarks.empty());
}

TEST(TieSpread, EveryCaseBothWaysAndInWarmth) {
  Hinged arch;
  arch.brief.loads.warmer_k = 20;
  const TieSpread all = tie_spread(arch.brief, arch.assembly, {}, arch.ground);
  ASSERT_EQ(all.states.size(), 3u);
  EXPECT_EQ(all.unsettled, 0);
  // tightened, the dead load leaves the feet in place: what is left is alpha dT L = 3.36 mm
  EXPECT_NEAR(all.states[2].spread_m, 12e-6 * 20 * 14, 0.1e-3);
}

}  // namespace
}  // namespace skewback
