// What is asked of slings, crane and a lifted block, worked by hand: statics, practice of EN 13155
// (factors of legs), EN 1992-1-1, 12.3.1 (0.8 f_ck / 1.5), a crane maker's note on wind; from
// memory. Defaults of the brief: dynamic 1.4, in the yard 2.0, gamma 1.35, slings of 10 kN, 60 mm.

#include <gtest/gtest.h>

#include <cmath>

#include "base/constants.hpp"
#include "erect/lifting_parts.hpp"
#include "erect/sample_slab.hpp"

namespace skewback {
namespace {

using sample::check;
using sample::layers_along_y;
using sample::lift_one;
using sample::slab;

constexpr double kWeight = 2400 * kGravity * 2 * 0.4 * 0.3;  // of the slab below, N
const Vec3 kSize(2, 0.4, 0.3);

TEST(LiftingByHand, LegsThatAreCounted) {
  for (const auto& [legs, spreader, counted] :
       {std::tuple(2, false, 2), std::tuple(2, true, 2), std::tuple(3, false, 2),
        std::tuple(4, false, 2), std::tuple(4, true, 4)}) {
    LiftRequest request;
    request.legs = legs;
    request.spreader = spreader;
    EXPECT_EQ(counted_legs(request), counted) << legs << spreader;
  }
}

// Two legs that lean by beta: tan beta = distance of the slings from the middle over the hook's
// height over them.
TEST(LiftingByHand, ForceInTwoLegs) {
  const BlockLift lift = lift_one(sample::handling_brief(), slab("a", kSize));
  ASSERT_EQ(lift.slings.size(), 2U);
  const Vec3 leg = lift.hook - lift.slings[0];
  const double cosine = leg.z() / leg.norm(), force = 1.4 * kWeight / (2 * cosine);
  EXPECT_LT(cosine, 0.99);
  EXPECT_NEAR(lift.leg_force_n, force, 1e-6 * force);
  EXPECT_NEAR(check(lift, "sling").demand, force, 1e-6 * force);
  EXPECT_NEAR(check(lift, "sling").utilisation, force / 10e3, 1e-9);
}

// Four legs without a spreader: two are counted, though four hang straight.
TEST(LiftingByHand, ForceInTwoOfFourLegs) {
  Brief brief = sample::handling_brief();
  brief.lifting.legs = 4;
  const Assembly assembly = sample::slabs({slab("a", kSize)});
  const auto s =
      sling(brief.lifting, assembly.blocks[0].solid, handling_block(assembly, 0, nullptr));
  ASSERT_TRUE(s);
  const Vec3 leg = s->lines[0].head - s->lines[0].front_top;
  const double force = 1.4 * kWeight / (2 * leg.z() / leg.norm());
  EXPECT_NEAR(lift_one(brief, assembly.blocks[0]).leg_force_n, force, 1e-6 * force);
}

// Both parts of a sling on a sloping soffit go to one head over the centre of gravity. Level:
// P sin b = P' sin b'; upright: half the weight on each of two slings.
TEST(LiftingByHand, TheSteeperPartOfASlingDrawsHarder) {
  Brief brief = sample::handling_brief();
  brief.lifting.legs = 4;
  brief.lifting.spreader = true;
  const Assembly assembly = sample::slabs({slab("a", {2, 0.4, 0.3}, 0.25)});
  const HandlingBlock block = handling_block(assembly, 0, nullptr);
  const auto s = sling(brief.lifting, assembly.blocks[0].solid, block);
  ASSERT_TRUE(s);
  const SlingLine& line = s->lines[0];
  const auto lean = [&](const Vec3& top) {
    const Vec3 way = line.head - top;
    return std::atan2(std::abs(way.dot(block.along)), way.z());
  };
  const double a = lean(line.back_top), b = lean(line.front_top);
  const double hardest = kWeight / 2 * std::sin(std::max(a, b)) / std::sin(a + b);
  ASSERT_GT(hardest, 1.01 * kWeight / (4 * std::cos(std::max(a, b)))) << "even legs say less";
  const BlockLift lift = lift_one(brief, assembly.blocks[0]);
  EXPECT_NEAR(lift.leg_force_n, 1.4 * hardest, 1e-6 * hardest);
}

// Four upright parts carry a quarter each, round a quarter turn on 60 mm x 60 mm, or on a wall.
TEST(LiftingByHand, PressureOnTheEdge) {
  Brief brief = sample::handling_brief();
  brief.lifting.spreader = true;
  const BlockLift lift = lift_one(brief, slab("a", kSize));
  const HandlingCheck solid = check(lift, "edge, site"), yard = check(lift, "edge, yard");
  const double pull = std::sqrt(2) * 1.35 * kWeight / 4;
  EXPECT_NEAR(solid.demand, 1.4 * pull / (0.06 * 0.06), 1);
  EXPECT_NEAR(solid.resistance, 0.8 * 40e6 / 1.5, 1e-3);
  EXPECT_NEAR(yard.demand / solid.demand, 2.0 / 1.4, 1e-12);
  brief.print.wanted = true;  // printed: it also leaves the yard, young
  brief.section.hollow = true;
  brief.section.leaf_m = 0.025;
  brief.lifting.early_strength = 0.5;
  const HandlingCheck hollow = check(lift_one(brief, slab("a", kSize)), "edge, table");
  EXPECT_NEAR(hollow.demand, 2.0 * pull / (0.06 * 0.025), 1);
  EXPECT_NEAR(hollow.resistance, 0.5 * 0.8 * 40e6 / 1.5, 1e-3);
}

// A force along the beam at its lower edge, in the plane of a cut: F / A + F (d / 2) / (b d^2 / 6)
// on one side of it, nothing on the other. Round-off has no say in which is taken.
TEST(LiftingByHand, AForceInACutCountsOnBothSidesOfIt) {
  const Block bar = slab("a", {2, 0.4, 0.3});
  Vec3 low = bar.solid.vertices.front(), high = low;
  for (const Vec3& v : bar.solid.vertices) {
    low = low.cwiseMin(v);
    high = high.cwiseMax(v);
  }
  const Vec3 middle = (low + high) / 2;
  const std::vector<BeamCut> cuts = beam_cuts(bar.solid, Vec3::UnitX(), {middle.x()});
  for (const double off : {-1e-9, 0.0, 1e-9}) {
    const Vec3 at(middle.x() + off, middle.y(), low.z());
    const BeamTension t =
        beam_tension(cuts, bar.density, Vec3::Zero(), {{at, 1000 * Vec3::UnitX()}});
    EXPECT_NEAR(t.greatest_pa, 4 * 1000 / (0.4 * 0.3), 1e-3) << off;
  }
}

TEST(LiftingByHand, TheYardShakesMore) {
  const BlockLift lift = lift_one(sample::handling_brief(), slab("a", kSize));
  EXPECT_NEAR(check(lift, "tension, yard").demand / check(lift, "tension, site").demand, 2.0 / 1.4,
              1e-9);
  EXPECT_EQ(check(lift, "tension, yard").resistance, check(lift, "tension, site").resistance);
}

TEST(LiftingByHand, GammaIsOnEveryTension) {
  Brief brief = sample::handling_brief();
  brief.print.wanted = true;
  brief.lifting.early_strength = 0.5;
  brief.lifting.site_age_s = 28 * 86400.0;
  const PrintSet set = layers_along_y();
  const BlockLift once = lift_one(brief, slab("a", kSize), &set);
  brief.lifting.gamma_load *= 2;
  const BlockLift twice = lift_one(brief, slab("a", kSize), &set);
  for (const char* name : {"tension, table", "layers, turning", "tension, site", "layers, site",
                           "edge, table", "edge, site"}) {
    EXPECT_GT(check(once, name).demand, 0) << name;
    EXPECT_NEAR(check(twice, name).demand / check(once, name).demand, 2, 1e-9) << name;
  }
  EXPECT_NEAR(check(once, "tension, table").resistance / check(once, "tension, site").resistance,
              0.5, 1e-12)
      << "young on its table";
}

// Slack, it spans from edge to edge of its soffit: W a / 8 on l d^2 / 6, pulled at the bottom.
// Drawn tight, half of W presses its lower edges together, d/2 under the middle: W / (l d) of pull
// at the top, from which bending takes away; least on the outermost plane, a fiftieth in.
TEST(LiftingByHand, TensionAcrossLayersWhileItHangs) {
  Brief brief = sample::handling_brief();
  brief.print.wanted = true;
  brief.lifting.spreader = true;
  const PrintSet set = layers_along_y();
  const double l = 2, a = 0.4;
  for (const double d : {0.15, 0.6}) {
    const BlockLift lift = lift_one(brief, slab("a", {l, a, d}), &set);
    const double weight = 1.35 * 1.4 * 2400 * kGravity * l * a * d;
    const double slack = weight * a / 8 / (l * d * d / 6);
    const double tight = weight / (l * d) - 4 * 0.02 * 0.98 * slack;
    const double most = std::max(slack, tight);
    EXPECT_EQ(slack > tight, d < 0.3);
    EXPECT_NEAR(lift.layer_tension_pa, most, 1e-6 * most) << d;
    EXPECT_NEAR(check(lift, "layers, site").demand, most, 1e-6 * most) << d;
  }
}

TEST(LiftingByHand, ASoffitSteepAcrossTheSlingsAsksForACradleToo) {
  for (const double degrees : {10.0, 25.0}) {
    // its long side runs along y, and falls
    const BlockLift lift =
        lift_one(sample::handling_brief(), slab("a", {0.4, 2, 0.3}, degrees * kPi / 180));
    ASSERT_FALSE(lift.slings.empty());
    EXPECT_NEAR(lift.slope_rad, 0, 1e-9);
    EXPECT_EQ(lift.cradle, degrees > 17);
  }
}

// 2 x 0.4 x 0.3 m of 2,400 kg/m3 on 25 degrees: 1.35 x 1.4 x 576 x 9.80665 x sin 25 = 4512 N slide,
// 2256 on each sling. A strap of S N turns twice by 90 degrees: 1.41421 S in each corner, on two
// faces, 0.3 / 2: 0.84853 S. S = 2659 N. On the lower edge it adds sqrt 2 x 1.35 x 2659 N on 60 mm
// squared.
TEST(LiftingByHand, AStrapOverEachSlingHoldsASlabOnASlope) {
  EXPECT_NEAR(grip_of_strap(kPi), 0.84853, 1e-5);
  Brief brief = sample::handling_brief();
  const Block steep = slab("a", {2, 0.4, 0.3}, 25 * kPi / 180);
  const BlockLift lift = lift_one(brief, steep);
  EXPECT_NEAR(lift.strap_n, 2659, 1);
  EXPECT_NEAR(check(lift, "strap over a sling").utilisation, 2659.0 / 5000, 1e-3);
  EXPECT_EQ(lift_one(brief, slab("a", {2, 0.4, 0.3}, 10 * kPi / 180)).strap_n, 0);
  brief.section.hollow = false;
  const double pull_n = check(lift_one(brief, steep), "edge, site").demand * 0.0036;
  const Assembly assembly = sample::slabs({steep});
  const HandlingBlock block = handling_block(assembly, 0, nullptr);
  const auto s = sling(brief.lifting, assembly.blocks[0].solid, block);
  ASSERT_TRUE(s);
  EXPECT_NEAR(pull_n, std::sqrt(2) * 1.35 * (1.4 * 576 * 9.80665 * s->part_n + 2659), 3);
}

TEST(LiftingByHand, NoStrapHoldsWhatDoesNotStraddleItsSlings) {
  const Brief brief = sample::handling_brief();
  const Assembly assembly = sample::slabs({slab("a", {2, 0.4, 0.3}, 25 * kPi / 180)});
  const HandlingBlock block = handling_block(assembly, 0, nullptr);
  auto s = sling(brief.lifting, assembly.blocks[0].solid, block);
  ASSERT_TRUE(s);
  for (const bool straddles : {true, false}) {
    s->straddles = straddles;
    BlockLift lift;
    lift.cradle = true;
    check_strap(brief, block, *s, lift);
    EXPECT_EQ(lift.strap_n > 0, straddles);
    EXPECT_EQ(lift.checks.empty(), !straddles);
  }
}

// 9 m/s sqrt(1.2 x 0.576 t / (1.2 x 0.612 m2)); the side is seen every 10 degrees.
TEST(LiftingByHand, GustsForALightSlab) {
  Brief brief = sample::handling_brief();
  EXPECT_NEAR(lift_one(brief, slab("a", kSize)).wind_m_s, 8.73, 0.01);
  brief.lifting.drag = 2.4;
  EXPECT_NEAR(lift_one(brief, slab("a", kSize)).wind_m_s, 8.73 / std::sqrt(2), 0.01);
}

// Its lowest point passes 0.5 m over the highest of what stands; the hook hangs as much over that
// as in its place. Slabs 0.3 m deep, about 2 m.
TEST(LiftingByHand, TheHookClearsWhatStands) {
  Brief brief = sample::handling_brief();
  brief.lifting.crane_level_m = -1;
  Block tower = slab("tower", {0.2, 0.2, 3}, 0, {5, 5, 2});
  tower.fixed = true;
  const auto second = [&](const Assembly& assembly) {
    const LiftPlan plan = plan_lifts(brief, assembly, sample::in_turn(assembly), nullptr);
    const BlockLift& lift = plan.lifts.at(1);
    return check(lift, "hook height").demand - 1 - (lift.hook.z() - (2 - 0.15));
  };
  const Block a = slab("a", kSize), b = slab("b", kSize, 0, {0, 3, 2});
  EXPECT_NEAR(second(sample::slabs({a, b})), 2.15 + 0.5, 1e-9);
  EXPECT_NEAR(second(sample::slabs({a, b, tower})), 3.5 + 0.5, 1e-9);
}

// A sheet 50 mm thick, 0.1 m over a place, is met on the way though the way's end is clear of it.
TEST(LiftingByHand, TheWholeWayInIsLookedAt) {
  const Brief brief = sample::handling_brief();
  const Block a = slab("a", {2, 0.4, 0.3}), sheet = slab("sheet", {6, 6, 0.05}, 0, {0, 0, 2.275});
  const auto ways = [&](const Assembly& assembly) {
    const LiftPlan plan = plan_lifts(brief, assembly, sample::in_turn(assembly), nullptr);
    return std::pair(plan.lifts.at(0).obstacle, plan.lifts.at(1).obstacle);
  };
  const auto under = ways(sample::slabs({sheet, a})), over = ways(sample::slabs({a, sheet}));
  EXPECT_EQ(under.first, "");
  EXPECT_EQ(under.second, "sheet is in the way, 150 mm out of its place");
  EXPECT_EQ(over.first, "") << "not there yet";
  EXPECT_EQ(over.second, "");
}

}  // namespace
}  // namespace skewback
