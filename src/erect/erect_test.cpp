#include "erect/erect.hpp"

#include <gtest/gtest.h>

#include "assembly/sample_arch.hpp"
#include "assembly/sample_tripod.hpp"
#include "brief/sample_barrel.hpp"
#include "centring/soffit.hpp"

namespace skewback {
namespace {

Programme erect(double thickness_over_radius) {
  const sample::Arch arch{.voussoirs = 7, .radius = 3, .thickness = 3 * thickness_over_radius};
  const Assembly assembly = sample::arch_assembly(arch);
  return plan_erection(sample::barrel_brief(arch.radius, arch.width), assembly);
}

double weight(const Block& block) { return mass_kg(block) * 9.81; }

TEST(Seats, LieOnTheSoffitAndPushOutwards) {
  const sample::Arch arch;
  const Assembly assembly = sample::arch_assembly(arch);
  const double inner = arch.radius - arch.thickness / 2, half = kPi / arch.voussoirs / 2;
  for (int i = 0; i < arch.voussoirs; ++i) {
    const auto seats = seats_of(assembly, i, 0.3);
    ASSERT_EQ(seats.size(), 4u) << assembly.blocks[i].id;
    for (const Prop& seat : seats) {
      // Straight-edged voussoir: its soffit is the chord plane at inner * cos(half) from the axis.
      const Vec3 out = sample::arch_point(1, (2 * i + 1) * half);
      EXPECT_NEAR(seat.point.dot(out), inner * std::cos(half), 1e-9);
      EXPECT_NEAR((seat.direction - out).norm(), 0, 1e-9);
      EXPECT_LT(std::abs(seat.point.y()), arch.width / 2);
      EXPECT_EQ(seat.friction, 0.3);
    }
  }
}

TEST(Seats, NotOnTheCeilingOfAVoid) {
  const sample::Arch arch;
  Assembly assembly = sample::arch_assembly(arch);
  const int key = arch.voussoirs / 2;
  const Vec3 low(-0.1, -0.3, arch.radius - 0.1), high(0.1, 0.3, arch.radius + 0.1);
  Solid inside = box(low, high);  // a closed void is enough: its ceiling looks down
  for (auto& face : inside.faces) std::ranges::reverse(face);
  assembly.blocks[key].solid = join({assembly.blocks[key].solid, inside});
  for (const Prop& seat : seats_of(assembly, key, 0.3))
    EXPECT_LT(seat.point.z(), arch.radius - 0.2);
}

TEST(Erect, OrderIsByCourseFromBothSpringingsAndTheKeyLast) {
  const Programme programme = erect(0.15);
  EXPECT_EQ(programme.order, (std::vector<std::string>{"v1", "v7", "v2", "v6", "v3", "v5", "v4"}));
  ASSERT_EQ(programme.stages.size(), 8u);
  EXPECT_EQ(programme.stages[0].what, "place");
  EXPECT_EQ(programme.stages[0].blocks, (std::vector<std::string>{"v1", "v7"}));
  EXPECT_EQ(programme.stages[4].what, "strike");
  EXPECT_EQ(programme.stages[4].blocks, (std::vector<std::string>{"v4"}));
  EXPECT_EQ(programme.stages[7].step, 8);
}

// Seven straight-edged voussoirs stand from t/R 0.0957 (computed independently): 0.15 stands at
// every step.
TEST(Erect, ThickArchStandsAtEveryStage) {
  for (const Stage& stage : erect(0.15).stages) {
    EXPECT_EQ(stage.proof.verdict, Verdict::kStands) << stage.step << ": " << stage.proof.reason;
  }
}

// The same threshold from the other side: 0.09 is carried while it lies on the centring, and falls
// when the last seats go.
TEST(Erect, ThinArchFallsWhenTheLastSeatsGo) {
  const Programme programme = erect(0.09);
  for (std::size_t i = 0; i < 4; ++i) {
    EXPECT_EQ(programme.stages[i].proof.verdict, Verdict::kStands)
        << i << programme.stages[i].proof.reason;
    EXPECT_GT(programme.stages[i].seat_force_max_n, 0);
  }
  const Stage& last = programme.stages.back();
  EXPECT_EQ(last.proof.verdict, Verdict::kFalls) << last.proof.reason;
  EXPECT_TRUE(std::holds_alternative<Mechanism>(last.proof.evidence));
}

TEST(Erect, ThreeArmsRiseTogether) {
  const sample::Tripod tripod;
  const Assembly assembly = sample::tripod_assembly(tripod);
  const Programme programme =
      plan_erection(sample::tripod_brief(tripod.core + tripod.radius, tripod.width), assembly);
  ASSERT_EQ(programme.stages.size(), 10u);
  EXPECT_EQ(programme.stages[0].blocks, (std::vector<std::string>{"A1", "B1", "C1"}));
  EXPECT_EQ(programme.stages[4].blocks, (std::vector<std::string>{"key"}));
  EXPECT_EQ(programme.seats.size(), 4u * 13u);
  // The key stands between upright joints. While the arms lie on their seats nothing clamps it, so
  // without its own seats it slides down, though forces that would hold it exist.
  for (const Stage& stage : programme.stages) {
    const bool key_freed = stage.step >= 6;
    EXPECT_EQ(stage.proof.verdict, stage.step == 6 ? Verdict::kUndecided : Verdict::kStands)
        << stage.step << ": " << stage.proof.reason;
    EXPECT_EQ(stage.proof.views.size(), key_freed ? 1U : 2U) << stage.step;
  }
}

TEST(Erect, HalfAnArchFallsWithoutItsSeats) {
  const sample::Arch arch;
  const Assembly assembly = sample::arch_assembly(arch);
  const Brief brief = sample::barrel_brief(arch.radius, arch.width);
  const Programme programme = plan_erection(brief, assembly);
  StandOptions options = stage_options(brief, assembly, programme, 2);  // all but the key
  EXPECT_EQ(limit_load(assembly, assembly.cases[0], options).verdict, Verdict::kStands);
  options.props.clear();
  EXPECT_EQ(limit_load(assembly, assembly.cases[0], options).verdict, Verdict::kFalls);
}

// Vertical equilibrium by hand: at each stage seats and ground together carry what is there.
TEST(Erect, SeatsAndGroundCarryWhatIsPlaced) {
  const sample::Arch arch;
  const Assembly assembly = sample::arch_assembly(arch);
  const Brief brief = sample::barrel_brief(arch.radius, arch.width);
  const Programme programme = plan_erection(brief, assembly);
  for (std::size_t i = 0; i < programme.stages.size(); ++i) {
    const StandOptions options = stage_options(brief, assembly, programme, i);
    const auto& forces = std::get<Forces>(programme.stages[i].proof.evidence);
    double up = 0, placed = 0;
    for (std::size_t b = 0; b < assembly.blocks.size(); ++b) {
      if (options.present[b] && !assembly.blocks[b].fixed) placed += weight(assembly.blocks[b]);
    }
    for (const PropForce& seat : forces.props) up += seat.force.z();
    for (const ContactForce& contact : forces.contacts) {
      const Joint& joint = assembly.joints[contact.joint];
      if (assembly.blocks[joint.a].fixed) up += contact.force.z();
      if (assembly.blocks[joint.b].fixed) up -= contact.force.z();
    }
    EXPECT_NEAR(up, placed, 1e-6 * placed) << "stage " << i;
  }
  EXPECT_EQ(programme.stages.back().seat_force_max_n, 0);
}

}  // namespace
}  // namespace skewback
