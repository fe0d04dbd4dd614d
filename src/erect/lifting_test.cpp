#include "erect/lifting.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "base/constants.hpp"
#include "erect/lifting_parts.hpp"
#include "erect/sample_slab.hpp"
#include "erect/transport.hpp"

namespace skewback {
namespace {

using sample::check;
using sample::layers_along_y;
using sample::lift_one;

// A bar on two points bends least where the moments over them and between them are alike:
// overhangs of (sqrt(2) - 1) / 2 = 0.207 of its length (closed form).
TEST(Lifting, UprightSlingsLieWhereABarBendsLeast) {
  Brief brief = sample::handling_brief();
  brief.lifting.spreader = true;
  const double length = 2.4, wide = 0.4, deep = 0.3;
  const BlockLift lift = lift_one(brief, sample::slab("a", {length, wide, deep}));
  ASSERT_EQ(lift.slings.size(), 2U);
  for (const Vec3& s : lift.slings)
    EXPECT_NEAR(std::abs(s.x()) / length, 0.5 - (std::sqrt(2) - 1) / 2, 0.01);
  const double w = 2400 * kGravity * wide * deep * brief.lifting.gamma_load * brief.lifting.dynamic;
  const double overhang = length / 2 - std::abs(lift.slings[0].x());
  const double moment =
      std::max(w * overhang * overhang / 2,
               w * length / 2 * (length / 2 - overhang) - w * length * length / 8);
  EXPECT_NEAR(check(lift, "tension, site").demand, moment / (wide * deep * deep / 6), 1);
  EXPECT_NEAR(lift.sling_angle_rad, 0, 1e-9);
}

// Half as deep, half as heavy: M / Z doubles.
TEST(Lifting, AThinnerBlockHasLessMargin) {
  Brief brief = sample::handling_brief();
  brief.lifting.spreader = true;
  const double thick =
      check(lift_one(brief, sample::slab("a", {2, 0.4, 0.3})), "tension, site").utilisation;
  const double thin =
      check(lift_one(brief, sample::slab("a", {2, 0.4, 0.15})), "tension, site").utilisation;
  EXPECT_NEAR(thin / thick, 2, 1e-6);
}

TEST(Lifting, PullsOfTheSlingsBalanceTheWeight) {
  const Polygon uneven = {{-1, -0.2}, {1.3, -0.15}, {1, 0.25}, {-0.9, 0.2}};
  Block block = sample::slab("a", {1, 1, 1});
  block.solid = prism({{0, 0, 2}, Vec3::UnitX(), Vec3::UnitY(), Vec3::UnitZ()}, uneven, 0, 0.3);
  const Assembly assembly = sample::slabs({block});
  const HandlingBlock self = handling_block(assembly, 0, nullptr);
  for (const int legs : {2, 4}) {
    for (const bool spreader : {false, true}) {
      LiftRequest request;
      request.legs = legs;
      request.spreader = spreader;
      const auto s = sling(request, assembly.blocks[0].solid, self);
      ASSERT_TRUE(s);
      EXPECT_TRUE(s->straddles);
      Vec3 force = -Vec3::UnitZ(), moment = Vec3::Zero();
      for (const HandlingForce& f : s->forces) {
        force += f.force;
        moment += (f.at - self.centre).cross(f.force);
      }
      EXPECT_LT(force.norm(), 1e-9) << legs << spreader;
      EXPECT_LT(moment.norm(), 1e-9) << legs << spreader;
      EXPECT_LT((s->hook - self.centre).head<2>().norm(), 1e-12);
      EXPECT_LT(s->lines[0].off_m * s->lines[1].off_m, 0) << "both on one side";
      EXPECT_LE(s->angle_rad,
                (spreader ? request.sling_angle_rad : std::atan(kSlingFriction)) + 1e-9);
    }
  }
}

// Held at both beds with the layers upright: M = w l2 / 8 over a section as wide as the block.
TEST(Lifting, TurningBendsAcrossTheLayers) {
  Brief brief = sample::handling_brief();
  brief.print.wanted = true;
  brief.lifting.early_strength = 0.5;
  brief.lifting.site_age_s = 28 * 86400.0;
  const double length = 2, along = 0.4, deep = 0.3;
  const PrintSet set = layers_along_y();
  const BlockLift lift = lift_one(brief, sample::slab("a", {length, along, deep}), &set);
  const double weight = 2400 * kGravity * length * along * deep * brief.lifting.gamma_load *
                        brief.lifting.dynamic_yard;
  const double stress = weight * along / 8 / (length * deep * deep / 6);
  EXPECT_NEAR(check(lift, "layers, turning").demand, stress, 1e-6 * stress);
  EXPECT_EQ(check(lift, "layers, table").demand, 0) << "they lie flat and are pressed";
  EXPECT_NEAR(check(lift, "layers, turning").resistance,
              0.5 * check(lift, "layers, site").resistance, 1e-6);
}

// Bed down on the table: weight and adhesion on its bed, bent about the bed's width.
TEST(Lifting, TheTableHoldsOnToTheBed) {
  Brief brief = sample::handling_brief();
  brief.print.wanted = true;
  const PrintSet set = layers_along_y();
  const Vec3 size(2, 0.4, 0.3);
  const double with =
      check(lift_one(brief, sample::slab("a", size), &set), "tension, table").demand;
  brief.lifting.adhesion_pa = 0;
  const double without =
      check(lift_one(brief, sample::slab("a", size), &set), "tension, table").demand;
  const double weight = brief.lifting.dynamic_yard * 2400 * kGravity * size.prod();
  EXPECT_NEAR(with / without, (weight + 1e3 * size.x() * size.z()) / weight, 1e-6);
}

TEST(Lifting, ABlockPrintedFlatIsNotTurned) {
  Brief brief = sample::handling_brief();
  brief.print.wanted = true;
  PrintSet set = layers_along_y();
  set.blocks[0].way = PrintWay::kFlat;
  set.blocks[0].to_table.R = Mat3::Identity();
  const BlockLift lift = lift_one(brief, sample::slab("a", {2, 0.4, 0.3}), &set);
  for (const HandlingCheck& c : lift.checks) {
    EXPECT_TRUE(std::isfinite(c.utilisation)) << c.name;
    EXPECT_NE(c.name, "layers, turning");
  }
}

// It was cast on its soffit, level, however it leans in its place.
TEST(Lifting, ACastBlockLeavesItsMouldLevel) {
  Brief brief = sample::handling_brief();
  brief.print.wanted = true;
  const auto tension = [&](double slope) {
    return check(lift_one(brief, sample::slab("a", {2, 0.4, 0.3}, slope)), "tension, table").demand;
  };
  EXPECT_NEAR(tension(0.4), tension(0), 1e-6 * tension(0));
}

TEST(Lifting, TheChartIsReadAtTheNextGreaterRadius) {
  Brief brief = sample::handling_brief();
  brief.lifting.crane = Vec2(0, 7);
  brief.lifting.chart = {{4, 3000}, {8, 1000}, {12, 500}};
  const Block block = sample::slab("a", {2, 0.4, 0.3});
  const BlockLift lift = lift_one(brief, block);
  EXPECT_NEAR(lift.radius_m, 7, 1e-9);
  EXPECT_NEAR(lift.crane_share, (lift.mass_kg + 40) / 1000, 1e-9);
  brief.lifting.crane = Vec2(0, 13);
  const BlockLift far = lift_one(brief, block);
  EXPECT_TRUE(std::isinf(far.utilisation));
  EXPECT_NE(check(far, "crane").place.find("beyond"), std::string::npos);
}

/// Two slabs 20 m apart along y, a crane 6 m short of the first that reaches 8 m.
struct TwoSlabs {
  Brief brief = sample::handling_brief();
  Assembly assembly = sample::slabs({sample::slab("near", {2, 0.4, 0.3}, 0, {0, 0, 2}),
                                     sample::slab("far", {2, 0.4, 0.3}, 0, {0, 20, 2})});
  TwoSlabs() {
    brief.lifting.crane = Vec2(0, -6);
    brief.lifting.chart = {{5, 2000}, {8, 1000}};
  }
  [[nodiscard]] LiftPlan plan() const {
    return plan_lifts(brief, assembly, sample::in_turn(assembly), nullptr);
  }
  [[nodiscard]] bool says(const std::string& words) const {
    return std::ranges::any_of(plan().remarks, [&](const std::string& remark) {
      return remark.find(words) != std::string::npos;
    });
  }
};

TEST(Lifting, WhatTheFirstStandDoesNotReachIsLiftedFromTheSecond) {
  TwoSlabs two;
  EXPECT_TRUE(std::isinf(two.plan().lifts[1].crane_share));
  // of 616 kg up to 8 m: anywhere within 8 m of the slab
  EXPECT_TRUE(two.says("A second stand clear of the bridge and within 8.0 m of (0.0, 20.0)"));
  two.brief.lifting.second_stand = Vec2(0, 16);
  const LiftPlan plan = two.plan();
  EXPECT_EQ(plan.lifts[0].stand, 1);
  EXPECT_EQ(plan.lifts[1].stand, 2);
  EXPECT_NEAR(plan.lifts[1].radius_m, 4, 1e-9);
  EXPECT_NEAR(plan.lifts[1].crane_share, (2400 * 0.24 + 40) / 2000, 1e-9);
  EXPECT_TRUE(two.says("it is moved 1 time."));
  EXPECT_FALSE(two.says("beyond the crane"));
}

TEST(Lifting, TheCraneMustCarryAtTheLorryToo) {
  TwoSlabs two;
  two.brief.lifting.lorry = Vec2(7, -6);
  EXPECT_NEAR(check(two.plan().lifts[0], "crane, lorry").resistance, 1000, 1e-9);
  two.brief.lifting.lorry = Vec2(9, -6);
  EXPECT_TRUE(std::isinf(two.plan().lifts[0].utilisation));
  two.brief.lifting.second_stand = Vec2(4, -4);  // 5.4 m from the lorry, 5.7 m from the block
  EXPECT_EQ(two.plan().lifts[0].stand, 2);
}

// The near block stands 2.6 m before the middle of a bed of 6.2 m; the far one, on a pallet that is
// turned, 0.5 m from it. Which way the bed lies is not known. Chart: 2 t to 5 m, 1 t to 8 m.
TEST(Lifting, OnTheLorryTheRadiusIsToWhereTheBlockStandsOnTheBed) {
  TwoSlabs two;
  Transport transport;
  transport.pallets.resize(2);
  transport.lorries.resize(1);
  for (int i = 0; i < 2; ++i) {
    BeddedBlock bedded;
    bedded.block = i;
    bedded.to_pallet.t = -two.assembly.blocks[static_cast<std::size_t>(i)].mass.centroid;
    if (i == 1) bedded.to_pallet.t += Vec3(0.3, 0.4, 0.5);
    transport.pallets[static_cast<std::size_t>(i)].blocks.push_back(bedded);
  }
  transport.lorries[0].pallets = {{0, Vec2(0.5, 0), false, 0}, {1, Vec2(3.1, 0), true, 1}};
  const std::vector<double> far_m =
      from_middle_of_bed(two.brief.transport, two.assembly, transport);
  EXPECT_NEAR(far_m.at(0), 2.6, 1e-9);
  EXPECT_NEAR(far_m.at(1), 0.5, 1e-9);
  const auto near = [&](double lorry_x, const Transport* loads) {
    two.brief.lifting.lorry = Vec2(lorry_x, -6);
    return plan_lifts(two.brief, two.assembly, sample::in_turn(two.assembly), nullptr, nullptr,
                      loads)
        .lifts[0];
  };
  EXPECT_NEAR(near(4.9, nullptr).stands[0].lorry_m, 4.9, 1e-9);
  EXPECT_NEAR(check(near(4.9, nullptr), "crane, lorry").resistance, 2000, 1e-9);
  EXPECT_NEAR(near(4.9, &transport).stands[0].lorry_m, 7.5, 1e-9);
  EXPECT_NEAR(check(near(4.9, &transport), "crane, lorry").resistance, 1000, 1e-9);
  EXPECT_NE(check(near(4.9, &transport), "crane, lorry").place.find("at 7.5 m"), std::string::npos);
  EXPECT_FALSE(beyond_the_crane(near(7.9, nullptr)));
  EXPECT_TRUE(beyond_the_crane(near(7.9, &transport)));  // 10.5 m
}

// From the first stand the place is 20 m off, from the second 4 m, but 17.5 m from there to the
// lorry; the chart ends at 8 m.
TEST(Lifting, SaysWhatStopsEachStand) {
  TwoSlabs two;
  two.brief.lifting.crane = Vec2(0, 0);
  two.brief.lifting.lorry = Vec2(7, 0);
  two.brief.lifting.second_stand = Vec2(0, 16);
  const BlockLift far = two.plan().lifts[1];
  EXPECT_TRUE(beyond_the_crane(far));
  EXPECT_EQ(stands_in_words(far),
            "stand 1: place at 20.0 m, beyond the last radius of its chart, lorry at 7.0 m, 616 of "
            "1000 kg; stand 2: place at 4.0 m, 616 of 2000 kg, lorry at 17.5 m, beyond the last "
            "radius of its chart");
  EXPECT_TRUE(
      two.says("The crane does not lift far. From its first stand the place is not within "
               "its chart, from its second stand the lorry is not within its chart."));
  two.brief.lifting.lorry.reset();
  EXPECT_EQ(two.plan().lifts[1].stand, 2);
  EXPECT_FALSE(beyond_the_crane(two.plan().lifts[1]));
  EXPECT_FALSE(two.says("The crane does not lift"));
}

// Place and lorry are both beyond the first stand: the second lacks only the lorry.
TEST(Lifting, OfTwoStandsThatDoNotDoTheOneThatLacksLeast) {
  TwoSlabs two;
  two.brief.lifting.lorry = Vec2(30, 0);
  two.brief.lifting.second_stand = Vec2(0, 16);
  EXPECT_EQ(two.plan().lifts[1].stand, 2);
  EXPECT_NEAR(two.plan().lifts[1].radius_m, 4, 1e-9);
}

TEST(Lifting, ASteepSoffitAsksForACradle) {
  const Brief brief = sample::handling_brief();
  for (const double degrees : {10.0, 25.0}) {
    const double slope = degrees * kPi / 180;
    const BlockLift lift = lift_one(brief, sample::slab("a", {2, 0.4, 0.3}, slope));
    EXPECT_NEAR(lift.slope_rad, slope, 1e-9);
    EXPECT_EQ(lift.cradle, degrees > 17);
  }
}

// On four legs of equal length a slab hangs level; placed aslant it would be off by its slope.
TEST(Lifting, EqualLegsHangASlabLevel) {
  Brief brief = sample::handling_brief();
  brief.lifting.legs = 4;
  EXPECT_NEAR(lift_one(brief, sample::slab("a", {2, 0.4, 0.3})).tilt_rad, 0, 1e-9);
  const double slope = 10 * kPi / 180;
  const BlockLift lift = lift_one(brief, sample::slab("a", {2, 0.4, 0.3}, slope));
  EXPECT_NEAR(lift.tilt_rad, slope, 1e-6);
  ASSERT_EQ(lift.leg_lengths_m.size(), 4U);
  EXPECT_GT(std::abs(lift.leg_lengths_m[0] - lift.leg_lengths_m[1]), 0.03);
}

TEST(Lifting, WhatHangsOverAPlaceIsInTheWay) {
  const Brief brief = sample::handling_brief();
  Block lintel = sample::slab("lintel", {3, 2, 0.2}, 0, {0, 0, 2.5});
  lintel.fixed = true;
  const Assembly assembly = sample::slabs({sample::slab("a", {2, 0.4, 0.3}), lintel});
  const LiftPlan plan = plan_lifts(brief, assembly, sample::in_turn(assembly), nullptr);
  EXPECT_FALSE(plan.lifts.at(0).way_clear);
  EXPECT_NE(plan.lifts.at(0).obstacle.find("lintel"), std::string::npos);
  EXPECT_TRUE(lift_one(brief, assembly.blocks[0]).way_clear);
}

TEST(Lifting, TheWindSeesTheLongSide) {
  EXPECT_NEAR(wind_area_m2(box({0, 0, 0}, {2, 0.5, 0.3})), std::hypot(2, 0.5) * 0.3, 0.01);
}

// A block on a slope: 400 kg at 30 degrees, 1.35 x 1.4: 1.35 x 1.4 x 400 x 9.81 / 2 = 3708 N.
TEST(Lifting, AStopHoldsTheWeightDownTheFall) {
  LiftRequest request;
  EXPECT_NEAR(stop_n(request, 400, kPi / 6), 3708, 1);
  EXPECT_EQ(stop_n(request, 400, 0), 0);
}

}  // namespace
}  // namespace skewback
