// Striking that goes unevenly.

#include "erect/uneven.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "assembly/sample_arch.hpp"
#include "brief/sample_barrel.hpp"

namespace skewback {
namespace {

/// A rib along x at y, with a foot at each end, and a seat over each foot.
void add_rib(Centring& centring, const std::string& id, double y) {
  Rib& rib = centring.ribs.emplace_back();
  rib.id = id;
  rib.place.origin = Vec3(-1, y, 0);
  rib.place.x = Vec3::UnitX();
  rib.place.y = Vec3::UnitZ();
  rib.place.z = -Vec3::UnitY();
  rib.top = {{0, 0}, {2, 0}};
  rib.feet = {0, 2};
  for (const double x : rib.feet) {
    Seat& seat = centring.seats.emplace_back();
    seat.rib = id;
    seat.along_m = x;
    seat.prop = {.block = 1, .point = Vec3(x - 1, y, 0), .friction = 0.3};
  }
}

const UnevenStep& step_of(const Programme& p, const std::string& foot, bool lags) {
  for (const UnevenStep& step : p.uneven.steps)
    if (step.foot == foot && step.lags == lags) return step;
  throw std::out_of_range("no state of " + foot);
}

// By hand: a stiff plate on four springs k under its corners. One goes down by d: the plate sinks
// and tilts, but cannot twist, so a quarter of d is left over: that corner and the one opposite
// carry k d / 4 less, the two others as much more. One that lags: the other way round.
TEST(Uneven, AStiffPlateOnFourFeetIsHeldByADiagonal) {
  Assembly assembly;
  Block& ground = assembly.blocks.emplace_back();
  ground.id = "ground";
  ground.solid = box({-9, -9, -9}, {9, 9, -8});
  ground.fixed = true;
  Block& plate = assembly.blocks.emplace_back();
  plate.id = "plate";
  plate.solid = box({-1.2, -1.2, 0}, {1.2, 1.2, 0.2});
  plate.density = 1000;
  plate.place = {.arm = 0, .course = 0};
  for (Block& block : assembly.blocks) block.mass = mass_properties(block.solid);
  Centring centring;
  add_rib(centring, "R1", -1);
  add_rib(centring, "R2", 1);
  Brief brief = sample::barrel_brief(3, 1);
  brief.loads.working_people_pa = 0;
  brief.centring.strike_step_m = 1e-4;
  brief.centring.travel_m = 1e-4;
  Programme programme = plan_erection(brief, assembly, &centring);
  prove_uneven(brief, assembly, &centring, programme);
  EXPECT_EQ(programme.uneven.steps.size(), 8u);  // four feet, ahead and behind
  const double even = 2.4 * 2.4 * 0.2 * 1000 * 9.81 / 4, more = PadOptions{}.prop_kn * 1e-4 / 4;
  for (const char* foot : {"R1-1", "R1-2", "R2-1", "R2-2"}) {
    EXPECT_NEAR(step_of(programme, foot, false).foot_n, even - more, 1e-3 * even) << foot;
    EXPECT_NEAR(step_of(programme, foot, true).foot_n, even + more, 1e-3 * even) << foot;
  }
  const std::vector<Vec3>& on = step_of(programme, "R1-1", true).seat_force_n;
  EXPECT_NEAR(on[1].z(), even - more, 1e-3 * even);
  EXPECT_NEAR(on[2].z(), even - more, 1e-3 * even);
  EXPECT_NEAR(on[3].z(), even + more, 1e-3 * even);
  // and the centring is given the worst of each foot
  int given = 0;
  for (const SeatLoads& loads : uneven_seat_loads(programme))
    if (loads.stage == "lower R1-1 after the rest of its row (step 2)") {
      ++given;
      EXPECT_NEAR(loads.force[0].z(), even + more, 1e-3 * even);
    }
  EXPECT_EQ(given, 1);
}

Programme struck(double thickness_over_radius) {
  const sample::Arch arch{.voussoirs = 7, .radius = 3, .thickness = 3 * thickness_over_radius};
  const Assembly assembly = sample::arch_assembly(arch);
  Brief brief = sample::barrel_brief(arch.radius, arch.width);
  brief.loads.working_people_pa = 0;
  Programme programme = plan_erection(brief, assembly, nullptr);
  prove_uneven(brief, assembly, nullptr, programme);
  return programme;
}

// Seven straight-edged voussoirs stand alone from t/R 0.0957 (tests/foreign/few_voussoirs.py): at
// 0.15 they stand on any seats besides, and what seats and ground carry is their weight.
TEST(Uneven, AThickArchStandsHoweverItsSeatsGo) {
  const Programme programme = struck(0.15);
  EXPECT_GT(programme.uneven.steps.size(), 6u);
  EXPECT_EQ(programme.uneven.standing, static_cast<int>(programme.uneven.steps.size()));
  for (const UnevenStep& step : programme.uneven.steps) EXPECT_TRUE(step.stands) << step.reason;
  EXPECT_THAT(programme.uneven.words,
              testing::Not(testing::Contains(testing::HasSubstr("Not proved"))));
}

TEST(Uneven, WhatIsOverALimitOfTheCentringIsNamed) {
  Centring centring;
  EXPECT_EQ(over_in_words(centring), "");
  centring.checks = {{"bending", 3, 4, "N m", 0.75, "R1, at 0.4 m", "lower R1-2 after", ""},
                     {"post", 14e3, 10e3, "N", 1.4, "R3-4", "lower R3-4 after the rest", ""},
                     {"wedge", 12e3, 10e3, "N", 1.2, "R3-4", "lower R3-4 after the rest", ""},
                     {"deflection", 5e-3, 3e-3, "m", 1.67, "R1", "lower R1-2 after", ""}};
  EXPECT_THAT(over_in_words(centring),
              testing::HasSubstr("post, R3-4, 14.0 kN of 10.0 kN, lower R3-4 after"));
  EXPECT_THAT(over_in_words(centring), testing::HasSubstr("over theirs too: wedge."));
}

// At 0.09 it falls once all its seats have gone, and is said to.
TEST(Uneven, AThinArchIsNotProved) {
  const Programme programme = struck(0.09);
  EXPECT_LT(programme.uneven.standing, static_cast<int>(programme.uneven.steps.size()));
  EXPECT_GT(programme.uneven.standing, 0);
  ASSERT_FALSE(programme.uneven.words.empty());
  EXPECT_THAT(programme.uneven.words.front(),
              testing::HasSubstr("Not proved to stand: seats under"));
}

}  // namespace
}  // namespace skewback
