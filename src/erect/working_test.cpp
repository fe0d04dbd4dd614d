#include <gtest/gtest.h>

#include "assembly/sample_arch.hpp"
#include "brief/sample_barrel.hpp"
#include "erect/erect.hpp"

namespace skewback {
namespace {

/// A block on a base that stays, nothing else: their contact is `wide` of its `length` in x.
Assembly block_on_base(double length, double wide, double broad, double high) {
  Assembly assembly;
  const auto add = [&](const std::string& id, const Vec3& low, const Vec3& top, bool fixed) {
    Block block;
    block.id = id;
    block.solid = box(low, top);
    block.density = 2000;
    block.fixed = fixed;
    if (!fixed) block.place = {.arm = 0, .course = 1};
    assembly.blocks.push_back(block);
  };
  add("base", {-wide / 2, -broad / 2, -1}, {wide / 2, broad / 2, 0}, true);
  add("block", {-length / 2, -broad / 2, 0}, {length / 2, broad / 2, high}, false);
  measure(assembly);
  assembly.joints = detect_joints(assembly.blocks, 0.6);
  return assembly;
}

Brief brief_of() {
  Brief brief;
  brief.plan.outline = {{-5, -5}, {5, -5}, {5, 5}, {-5, 5}};
  brief.plan.supports = {{"west", {-5, 1}, {-5, -1}, 0}, {"east", {5, -1}, {5, 1}, 0}};
  return brief;
}

// By hand, moments about the edge of the base: people of 1.5 kPa on the half of a slab 4 m long on
// a base 1.2 m wide have a lever of 4/4 - 1.2/2 over it, the weight one of 1.2/2.
TEST(Working, PeopleOnTheWorstHalfTipASlab) {
  const double length = 4, wide = 1.2, broad = 2, high = 0.1;
  const Brief brief = brief_of();
  const Programme programme =
      plan_erection(brief, block_on_base(length, wide, broad, high), nullptr);
  const Stage& placed = programme.stages.at(0);
  EXPECT_EQ(placed.proof.verdict, Verdict::kStands);
  ASSERT_TRUE(placed.working);
  const double weight = 2000 * 9.81 * length * broad * high;
  const double factor = weight * wide / 2 / (1.5e3 * length / 2 * broad * (length / 4 - wide / 2));
  ASSERT_TRUE(placed.working->load_factor);
  EXPECT_NEAR(*placed.working->load_factor, factor, 1e-3 * factor);
  EXPECT_GT(factor, 1);
  EXPECT_EQ(placed.working->verdict, Verdict::kStands) << placed.working->reason;
  EXPECT_EQ(placed.working->standing, placed.working->cases);
  EXPECT_NE(placed.working->governing.find("half"), std::string::npos);
  EXPECT_TRUE(stands(placed));
}

// The same slab on a base of 0.8 m with 3 kPa of people tips, though the weight alone stands.
TEST(Working, AStageMayStandUnderItsWeightAndFailUnderPeople) {
  Brief brief = brief_of();
  brief.loads.working_people_pa = 3e3;
  const double length = 4, wide = 0.8, broad = 2, high = 0.1;
  const Programme programme =
      plan_erection(brief, block_on_base(length, wide, broad, high), nullptr);
  const Stage& placed = programme.stages.at(0);
  EXPECT_EQ(placed.proof.verdict, Verdict::kStands);
  ASSERT_TRUE(placed.working);
  const double weight = 2000 * 9.81 * length * broad * high;
  const double factor = weight * wide / 2 / (4.5e3 * length / 2 * broad * (length / 4 - wide / 2));
  EXPECT_LT(factor, 1);
  EXPECT_NEAR(*placed.working->load_factor, factor, 1e-3 * factor);
  EXPECT_NE(placed.working->verdict, Verdict::kStands);
  EXPECT_LT(placed.working->standing, placed.working->cases);
  EXPECT_GT(placed.working->standing, 0);  // people everywhere only press it down
  EXPECT_FALSE(placed.working->reason.empty());
  EXPECT_FALSE(stands(placed));
}

// A wall 0.4 m thick and 2 m high in the wind at 20 m/s: W t / 2 against 1.5 x 2.4 x 250 Pa x 2 m
// at half its height, per metre.
TEST(Working, WindTipsAWall) {
  Brief brief = brief_of();
  brief.loads.working_people_pa = 0;
  brief.loads.working_wind_m_s = 20;
  const double thick = 0.4, broad = 3, high = 2;
  const Programme programme =
      plan_erection(brief, block_on_base(thick, thick, broad, high), nullptr);
  const Stage& placed = programme.stages.at(0);
  ASSERT_TRUE(placed.working);
  EXPECT_EQ(placed.working->cases, 4);
  const double weight = 2000 * 9.81 * thick * broad * high;
  const double factor = weight * thick / 2 / (1.5 * 2.4 * 250 * broad * high * high / 2);
  EXPECT_NEAR(*placed.working->load_factor, factor, 1e-3 * factor);
  EXPECT_TRUE(placed.working->governing.find("east") != std::string::npos ||
              placed.working->governing.find("west") != std::string::npos);
}

TEST(Working, NotAskedWhereTheBriefHasNone) {
  Brief brief = brief_of();
  brief.loads.working_people_pa = 0;
  const Programme programme = plan_erection(brief, block_on_base(1, 1, 1, 1), nullptr);
  EXPECT_FALSE(programme.stages.at(0).working);
  EXPECT_TRUE(stands(programme.stages.at(0)));
}

// Seven voussoirs of t/R 0.15 on their centring: the seats carry people too.
TEST(Working, SeatsCarryMoreWithPeopleOnTheCentring) {
  const sample::Arch arch{.voussoirs = 7, .radius = 3, .thickness = 0.45};
  const Programme programme = plan_erection(sample::barrel_brief(arch.radius, arch.width),
                                            sample::arch_assembly(arch), nullptr);
  for (std::size_t i = 0; i < 4; ++i) {
    const Stage& stage = programme.stages[i];
    ASSERT_TRUE(stage.working) << i;
    EXPECT_EQ(stage.working->verdict, Verdict::kStands) << i << stage.working->reason;
    EXPECT_GT(stage.working->seat_force_max_n, 0);
  }
}

}  // namespace
}  // namespace skewback
