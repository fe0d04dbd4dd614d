#include "works/states.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "works/required_site.hpp"

namespace skewback {
namespace {

Assembly two_joints() {
  Assembly assembly;
  for (const char* id : {"west", "v1", "east"}) assembly.blocks.emplace_back().id = id;
  for (int j = 0; j < 2; ++j) {
    Joint& joint = assembly.joints.emplace_back();
    joint.a = j;
    joint.b = j + 1;
  }
  return assembly;
}

PadState pressed(double first_pa, double second_pa) {
  PadState state;
  state.found = true;
  state.joints.resize(2);
  state.joints[0].peak_pa = first_pa;
  state.joints[1].peak_pa = second_pa;
  state.peak_pa = std::max(first_pa, second_pa);
  return state;
}

// EN 1992-1-1:2004, 12.3.1 (alpha_cc,pl 0.8) and Table 2.1N (gamma_C 1.5 lasting, 1.2 accidental),
// C30 without pads: 16 and 20 MPa. From memory.
TEST(States, AnAccidentIsHeldToTheConcreteOfItsOwnFactor) {
  Brief brief;
  brief.material.fck_pa = 30e6;
  brief.required.pad_stress_pa = 0;
  const Assembly assembly = two_joints();
  EXPECT_NEAR(joint_limits(brief, assembly, Situation::kLasting)[1], 16e6, 1);
  EXPECT_NEAR(joint_limits(brief, assembly, Situation::kAccident)[1], 20e6, 1);
  brief.required.pad_stress_pa = 5e6;  // asked for: lasting ones keep to it
  EXPECT_NEAR(joint_limits(brief, assembly, Situation::kLasting)[0], 5e6, 1);
  EXPECT_NEAR(joint_limits(brief, assembly, Situation::kAccident)[0], 20e6, 1);
  brief.required.pad_stress_pa = 40e6;
  EXPECT_NEAR(joint_limits(brief, assembly, Situation::kAccident)[0], 40e6, 1);
}

TEST(States, AJointPressedBeyondWhatItTakesIsNotHeld) {
  const Assembly assembly = two_joints();
  TriedState state;
  take_state(assembly, pressed(6e6, 1.9e6), {8e6, 2e6}, state);
  EXPECT_TRUE(state.holds);
  EXPECT_NEAR(state.pressed, 0.95, 1e-12);  // the second, though the first is pressed more
  state = {};
  take_state(assembly, pressed(6e6, 2.1e6), {8e6, 2e6}, state);
  EXPECT_FALSE(state.holds);
  EXPECT_NEAR(state.pressed, 1.05, 1e-12);
  EXPECT_EQ(state.reason, "joint v1 | east is pressed by 2.1 MPa and takes 2.0");
  PadState none;
  none.reason = "no balance";
  state = {};
  take_state(assembly, none, {8e6, 2e6}, state);
  EXPECT_FALSE(state.holds);
  EXPECT_EQ(state.pressed, 0);
  EXPECT_EQ(state.reason, "no balance");
}

TEST(States, AllOfThemAreRequiredToHold) {
  Dossier d;
  EXPECT_FALSE(required_other_states(d));
  d.tried.resize(2);
  d.tried[0] = {"30 K colder", "dead", true, "", 1e6, 0, 0, std::nullopt, 0.5};
  d.tried[1] = {
      "accident: ground-west 20 mm outward", "full", true, "", 2e6, 0, 0, std::nullopt, 0.8};
  auto check = required_other_states(d);
  ASSERT_TRUE(check && check->passes);
  EXPECT_TRUE(*check->passes);
  EXPECT_EQ(check->note,
            "pressed most: 0.80 of what a joint takes, accident: ground-west 20 mm outward, case "
            "full");
  d.tried[0].holds = false;
  d.tried[0].reason = "no balance";
  check = required_other_states(d);
  EXPECT_FALSE(*check->passes);
  EXPECT_DOUBLE_EQ(*check->value, 0.5);
  EXPECT_EQ(check->note, "30 K colder, case dead: no balance");
}

}  // namespace
}  // namespace skewback
