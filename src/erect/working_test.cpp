#include "erect/working.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <set>

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

// The same slab with 300 kg of walkway in its middle: they help to hold it down once they lie
// there, not before.
TEST(Working, WhatIsLaidByThenCounts) {
  Brief brief = brief_of();
  brief.walkway.width_m = 1;
  const double length = 4, wide = 1.2, broad = 2, high = 0.1, laid_kg = 300;
  Assembly assembly = block_on_base(length, wide, broad, high);
  assembly.blocks[1].carried = {{laid_kg, assembly.blocks[1].mass.centroid, Carried::kWalkway}};
  const Programme programme = plan_erection(brief, assembly, nullptr);
  const double bare = 2000 * 9.81 * length * broad * high, whole = bare + 9.81 * laid_kg;
  const double tipping = 1.5e3 * length / 2 * broad * (length / 4 - wide / 2);
  const Stage *placed = nullptr, *laid = nullptr;
  for (const Stage& stage : programme.stages) {
    if (stage.what == "place") placed = &stage;
    if (stage.what == "lay") laid = &stage;  // the other half, in the end
  }
  ASSERT_TRUE(placed && placed->working && laid && laid->working);
  EXPECT_NEAR(*placed->working->load_factor, bare * wide / 2 / tipping, 1e-3);
  EXPECT_NEAR(*laid->working->load_factor, whole * wide / 2 / tipping, 1e-3);
}

// Seats at both ends hold the slab that tips; lowered, and asked of view 1 alone, they do not.
TEST(Working, SeatsThatWereLoweredHoldNothingInViewOne) {
  Brief brief = brief_of();
  brief.loads.working_people_pa = 3e3;
  const Assembly assembly = block_on_base(4, 0.8, 2, 0.1);
  const std::vector<char> all(assembly.blocks.size(), 1);
  const auto on = BuildingLoads(brief, assembly).on(all);
  StandOptions options;
  for (const double x : {-1.9, 1.9}) {
    for (const double y : {-0.9, 0.9})
      options.props.push_back({1, Vec3(x, y, 0), Vec3::UnitZ(), 0.3});
  }
  EXPECT_EQ(under_building_loads(assembly, options, on, nullptr)->verdict, Verdict::kStands);
  for (Prop& prop : options.props) prop.lowered_m = 2e-3;
  EXPECT_EQ(under_building_loads(assembly, options, on, nullptr)->verdict, Verdict::kFalls);
}

// Each case tried alone: the one that weighs most on the seats is the one that is kept.
TEST(Working, TheHeaviestCaseIsTheOneThatAloneWeighsMost) {
  const Brief brief = brief_of();
  const Assembly assembly = block_on_base(4, 1.2, 2, 0.1);
  const auto on = BuildingLoads(brief, assembly).on({1, 1});
  ASSERT_GT(on.size(), 1U);
  StandOptions options;
  for (const double x : {-1.9, 1.9}) {
    for (const double y : {-0.9, 0.9})
      options.props.push_back({1, Vec3(x, y, 0), Vec3::UnitZ(), 0.3});
  }
  LoadCase dead;
  dead.id = "dead";
  const PadState weight = pad_state(assembly, dead, options);
  ASSERT_TRUE(weight.found) << weight.reason;
  const auto upward = [](const WorkingLoads& tried) {
    double up = 0;
    for (const Vec3& f : tried.seat_force_n) up += f.z();
    return up;
  };
  const auto all = under_building_loads(assembly, options, on, &weight.after);
  EXPECT_EQ(all->standing, all->cases);
  std::string heaviest;
  double most = 0, least = HUGE_VAL;
  for (const BuildingCase& one : on) {
    const double up = upward(*under_building_loads(assembly, options, {one}, &weight.after));
    if (up > most) heaviest = one.words;
    most = std::max(most, up);
    least = std::min(least, up);
  }
  EXPECT_GT(most, 1.01 * least);
  EXPECT_EQ(all->heaviest, heaviest);
  EXPECT_NEAR(upward(*all), most, 1e-9 * most);
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

// Seven voussoirs of t/R 0.15 with something to lay: people come on at every step but those that
// move the centring. On the centring its seats carry them too.
TEST(Working, TriedAtEveryStepButThoseThatMoveTheCentring) {
  const sample::Arch arch{.voussoirs = 7, .radius = 3, .thickness = 0.45};
  Assembly assembly = sample::arch_assembly(arch);
  assembly.blocks[1].carried = {{50, assembly.blocks[1].mass.centroid, Carried::kParapet}};
  const Programme programme =
      plan_erection(sample::barrel_brief(arch.radius, arch.width), assembly, nullptr);
  std::set<std::string> tried;
  for (const Stage& stage : programme.stages) {
    const bool moves = stage.what == "lower" || stage.what == "raise";
    EXPECT_EQ(stage.working.has_value(), !moves) << stage.step << " " << stage.what;
    if (stage.working) tried.insert(stage.what);
  }
  EXPECT_EQ(tried, (std::set<std::string>{"clear", "lay", "place", "take down", "unload"}));
  for (std::size_t i = 0; i < 4; ++i) {
    const WorkingLoads& working = *programme.stages[i].working;
    EXPECT_EQ(working.verdict, Verdict::kStands) << i << working.reason;
    EXPECT_GT(working.seat_force_max_n, 0);
  }
}

}  // namespace
}  // namespace skewback
