// Stages let go in time, on seven straight-edged voussoirs: they stand from t/R 0.0957
// (tests/foreign/few_voussoirs.py).
#include "erect/third_view.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "assembly/sample_arch.hpp"
#include "brief/sample_barrel.hpp"

namespace skewback {
namespace {

struct Let {
  Assembly assembly;
  Brief brief;
  Programme programme;
};

Let erect(double thickness_over_radius, const std::string& motion, double people_pa = 0) {
  const sample::Arch arch{.voussoirs = 7, .radius = 3, .thickness = 3 * thickness_over_radius};
  Let out{sample::arch_assembly(arch), sample::barrel_brief(arch.radius, arch.width), {}};
  out.brief.loads.motion = motion;
  out.brief.loads.working_people_pa = people_pa;
  out.programme = plan_erection(out.brief, out.assembly, nullptr);
  let_stages_go(out.brief, out.assembly, out.programme);
  let_working_stages_go(out.brief, out.assembly, out.programme);
  return out;
}

const Motion& motion_of(const Programme& programme, const Stage& stage) {
  return *programme.stages[static_cast<std::size_t>(stage.let_go_as)].proof.motion;
}

TEST(ThirdView, EveryStageOfAThickArchComesToRest) {
  const Let let = erect(0.15, "always");
  for (const Stage& stage : let.programme.stages) {
    ASSERT_GE(stage.let_go_as, 0) << stage.step;
    EXPECT_EQ(motion_of(let.programme, stage).ending, Ending::kAtRest) << stage.step;
    EXPECT_EQ(stage.proof.verdict, Verdict::kStands) << stage.step << stage.proof.reason;
    EXPECT_EQ(stage.proof.views.back(), "motion");
  }
}

// Seats carry what joints do not: all forces from below together are the weight of what is there.
TEST(ThirdView, SeatsAndSpringingsCarryTheWeight) {
  const Let let = erect(0.15, "always");
  const Stage& half = let.programme.stages.at(3);  // two on each side
  ASSERT_EQ(half.let_go_as, 3);
  const Motion& motion = *half.proof.motion;
  double weight = 0, seats = 0, ground = 0;
  for (std::size_t i = 0; i < let.assembly.blocks.size(); ++i) {
    const Block& block = let.assembly.blocks[i];
    if (!block.fixed && half.state.present[i] != 0) weight += 9.81 * mass_kg(block);
  }
  for (const PusherMotion& seat : motion.pushers) seats += seat.force.z();
  for (std::size_t j = 0; j < let.assembly.joints.size(); ++j) {
    const Joint& joint = let.assembly.joints[j];
    const auto fixed = [&](int b) {
      return let.assembly.blocks[static_cast<std::size_t>(b)].fixed;
    };
    if (fixed(joint.a)) ground += motion.joints[j].force.z();
    if (fixed(joint.b)) ground -= motion.joints[j].force.z();
  }
  EXPECT_GT(seats, 0.05 * weight);
  EXPECT_NEAR(seats + ground, weight, 4 * 1e-3 * weight);  // at rest to a thousandth of a block
}

TEST(ThirdView, AThinArchFallsWhenTheCentringIsGone) {
  const Let let = erect(0.09, "always");
  for (const Stage& stage : let.programme.stages) {
    if (stage.what == "place") {
      EXPECT_EQ(motion_of(let.programme, stage).ending, Ending::kAtRest) << stage.step;
    }
    if (stage.what == "clear") {
      EXPECT_EQ(motion_of(let.programme, stage).ending, Ending::kMovingOff);
      EXPECT_EQ(stage.proof.verdict, Verdict::kFalls);
    }
  }
}

TEST(ThirdView, OnlyWhereItIsAskedFor) {
  const Let never = erect(0.15, "never");
  for (const Stage& stage : never.programme.stages) EXPECT_EQ(stage.let_go_as, -1);
  EXPECT_FALSE(never.programme.stages.front().proof.motion.has_value());
}

// People on half of a thin arch bring it down as soon as the centring is gone: view 1 says so, and
// the blocks do it.
TEST(ThirdView, PeopleBringAThinArchDown) {
  const Let let = erect(0.1, "always", 2000);
  int cleared = 0;
  for (const Stage& stage : let.programme.stages) {
    if (!stage.working) continue;
    const WorkingLoads& working = *stage.working;
    ASSERT_GE(working.let_go_as, 0) << stage.step;
    EXPECT_EQ(working.views.back(), "motion");
    const Motion& motion =
        *let.programme.stages[static_cast<std::size_t>(working.let_go_as)].working->motion;
    const bool falls = working.verdict == Verdict::kFalls;
    EXPECT_EQ(motion.ending, falls ? Ending::kMovingOff : Ending::kAtRest) << stage.step;
    if (stage.what != "clear") continue;
    ++cleared;
    EXPECT_EQ(stage.proof.verdict, Verdict::kStands) << stage.proof.reason;
    EXPECT_TRUE(falls) << working.reason;
  }
  EXPECT_GT(cleared, 0);
}

// Were the other views to let that stage stand, its motion would not.
TEST(ThirdView, WhatMovesOffUnderPeopleFallsWhateverTheOthersSay) {
  Let let = erect(0.1, "always", 2000);
  const auto cleared = std::ranges::find(let.programme.stages, "clear", &Stage::what);
  ASSERT_NE(cleared, let.programme.stages.end());
  WorkingLoads& working = *cleared->working;
  working.verdict = Verdict::kStands;
  working.reason.clear();
  working.standing = working.cases;
  let_working_stages_go(let.brief, let.assembly, let.programme);
  EXPECT_EQ(working.verdict, Verdict::kFalls);
  EXPECT_NE(working.reason.find("moves off"), std::string::npos) << working.reason;
  EXPECT_EQ(working.standing, working.cases - 1);
}

TEST(ThirdView, PeopleAreLetGoOnlyWhereItIsAskedFor) {
  const auto let_go = [](const std::string& motion) {
    const Let let = erect(0.15, motion, 1000);
    return std::ranges::count_if(let.programme.stages, [](const Stage& stage) {
      return stage.working && stage.working->motion;
    });
  };
  EXPECT_GT(let_go("always"), 3);
  EXPECT_EQ(let_go("never"), 0);
}

}  // namespace
}  // namespace skewback
