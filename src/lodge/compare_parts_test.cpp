// Changes of strength, checks, ground, joints, plan and works, each figure by hand.
#include "lodge/compare_parts.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "deliver/sample_dossier.hpp"

namespace skewback::lodge {
namespace {

using sample::small_dossier;
using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

std::vector<std::string> said(const std::vector<Change>& list) {
  std::vector<std::string> all;
  for (const Change& c : list) all.push_back(c.says);
  return all;
}

BlockFinding use(int block, double utilisation) {
  return {block, "across", "dead", 1e6 * utilisation, 1e6, "Pa", utilisation, "lower skin", ""};
}

TEST(ComparedStrength, TheBlockMostUsedAndThoseBeyond) {
  Dossier before = small_dossier(), now = small_dossier();
  before.strength = BlockChecks{{use(1, 1.2), use(2, 0.7)}, 0, {}, {}};
  now.strength = BlockChecks{{use(1, 1.2), use(2, 1.1), use(2, 1.5), use(3, 0.9)}, 2, {}, {}};
  EXPECT_THAT(said(strength_changes(before, now)),
              ElementsAre("2 blocks are used beyond their strength: v2, v3; 1 before",
                          "the block most used is v3 (across, case dead): 1.50 of its strength, "
                          "the most was 1.20"));
  now.strength = BlockChecks{{use(1, 0.9)}, 0, {}, {}};
  EXPECT_THAT(said(strength_changes(before, now)),
              Contains("no block is used beyond its strength any more"));
  now.strength->findings[0].utilisation = 1.204;
  EXPECT_THAT(said(strength_changes(before, now)), IsEmpty());
}

TEST(ComparedChecks, LimitsAndWhatIsAskedForNow) {
  Dossier before = small_dossier(), now = small_dossier();
  now.required[0].limit = 1.5;
  now.required.push_back({"lifting", 0.5, 1, true, "", ""});
  EXPECT_THAT(said(check_changes(before, now)),
              ElementsAre("lifting is asked for now: passes",
                          HasSubstr("live factor: the limit was 1.35")));
  EXPECT_THAT(said(check_changes(now, before)), Contains("lifting is no longer asked for"));
}

TEST(ComparedGround, ReactionsFootingsAndTies) {
  Dossier before = small_dossier();
  FootingReport footing;
  footing.id = "west";
  footing.cleared = true;
  footing.pressure_needed_pa = 120e3;
  before.ground->footings = {footing};
  Dossier now = before;
  now.ground->supports[0].thrust_n = 9.5e3;
  now.ground->supports[0].force.z() = 18e3;
  now.ground->footings[0].pressure_needed_pa = 155e3;
  now.ground->footings[0].cleared = false;
  now.ground->footings[0].reason = "it slides";
  now.ground->ties.clear();
  const auto list = ground_changes(before, now);
  EXPECT_THAT(said(list),
              testing::UnorderedElementsAre(
                  "the thrust on the support west is 9.5 kN, 1.5 kN more, dead load",
                  "the weight on the support west is 18.0 kN, 2.0 kN less, dead load",
                  "the pressure the footing west asks of the soil is 155 kPa, 35 kPa more",
                  "the footing west is no longer cleared: it slides", "the tie west-east is gone"));
  EXPECT_EQ(list[0].says, "the tie west-east is gone");
  EXPECT_THAT(said(ground_changes(now, before)), Contains("the footing west holds now"));
  EXPECT_THAT(said(ground_changes(now, before)),
              Contains("the tie west-east is new, rods 2 of 16 mm"));
}

TEST(ComparedBlocks, WhatTheyCarry) {
  Dossier now = small_dossier();
  now.cut->assembly.blocks[2].carried = {{100, Vec3(0, 0, 3), Carried::kOther}};
  const auto list = block_changes(small_dossier(), now);
  EXPECT_THAT(said(list), Contains("v3 carries more by 100 kg"));
  EXPECT_THAT(said(block_changes(now, small_dossier())), Contains("v3 carries less by 100 kg"));
  EXPECT_THAT(said(body_changes(small_dossier(), now)),
              Contains("what they carry is 100 kg, 100 kg more"));
}

// Joints are 1 m wide and 0.45 m deep; one is cut to 0.9 m, one to 0.5 m.
TEST(ComparedJoints, BearingAreaAndAngles) {
  Dossier before = small_dossier();
  before.joint_angle_median_deg = 2;
  before.joint_angle_max_deg = 9;
  Dossier now = before;
  const auto narrow = [&](std::size_t j, double half_m) {
    for (Vec2& p : now.cut->assembly.joints[j].contact[0].outer)
      if (std::abs(std::abs(p.x()) - 0.5) < 1e-9) p.x() = p.x() > 0 ? half_m : -half_m;
  };
  narrow(2, 0.25);
  narrow(4, 0.45);
  now.joint_angle_median_deg = 3.5;
  EXPECT_THAT(said(joint_changes(before, now)),
              ElementsAre("the bearing area of v2 | v3 is 0.225 m\u00b2, 0.225 m\u00b2 less; of 2 "
                          "joints that differ, the most",
                          "the median angle of the thrust to the joints is 3.5 degrees, 1.5 "
                          "degrees more"));
}

TEST(ComparedPlan, LevelsDepthsAndLegs) {
  Dossier before = small_dossier(), now = small_dossier();
  before.brief.section.depth_springing_m = 0.6;
  now.brief.plan.supports[1].level_m = 0.25;
  now.brief.section.depth_crown_m = 0.35;
  now.brief.section.depth_springing_m = 0.5;
  EXPECT_THAT(said(form_changes(before, now)),
              Contains("the level of the springing east is 0.250 m, 0.250 m more"));
  EXPECT_THAT(said(body_changes(before, now)),
              testing::IsSupersetOf({"the depth at the crown is 350 mm, 100 mm less",
                                     "the depth at the springings is 500 mm, 100 mm less"}));
}

// An edge of the earlier form that ends sooner: what stands beyond its end lies that far from it.
TEST(ComparedPlan, AnEdgeIsMeasuredFromItsEndsToo) {
  Dossier before = small_dossier();
  before.brief.plan.free_edges = {{0, 1, {{-3, -0.5}, {3, -0.5}}}, {1, 0, {{3, 0.5}, {-3, 0.5}}}};
  Dossier now = before;
  for (std::size_t v = 0; v < now.form->vertices.size(); ++v)
    if (now.form->free_edge_of[v] == 0) now.form->vertices[v].x() += 0.3;
  now.form->rise_m = 4;
  const auto list = form_changes(before, now);
  EXPECT_THAT(said(list),
              Contains("the free edge west to east lies up to 0.30 m from where it was"));
  const auto rise = std::ranges::find(list, "the rise is 4.00 m, 1.00 m more", &Change::says);
  ASSERT_NE(rise, list.end());
  EXPECT_NEAR(rise->at->z(), 3, 1e-9) << "at the top";
}

TEST(ComparedWorks, PrintingCentringAndDelay) {
  Dossier before = small_dossier();
  before.print->print_s = 36000;
  before.centring = Centring{};
  CentringCheck bends, shears;
  bends.name = "bending";
  bends.utilisation = 0.9;
  shears.name = "shear";
  shears.utilisation = 0.2;
  before.centring->checks = {shears, bends};
  before.centring->deflection_max_m = 0.002;
  before.spares = Spares{};
  before.spares->trials.resize(1);
  before.spares->trials[0].expected_delay_s = 2 * 86400;
  before.quantities = Quantities{};
  before.quantities->money = 1000;
  before.quantities->carbon_kg = {500, 700, 900};
  before.brief.rates.currency = "EUR";
  Dossier now = before;
  now.print->print_s = 43200;
  BlockPrint& block = now.print->blocks[0];
  block.printable = false;
  block.way = PrintWay::kCast;
  now.centring->checks[0].utilisation = 0.8;
  now.centring->checks[1].utilisation = 1.1;
  now.centring->deflection_max_m = 0.0035;
  now.spares->trials[0].expected_delay_s = 3 * 86400;
  now.quantities->money = 1250;
  now.quantities->carbon_kg = {500, 710, 990};
  const auto printed = said(print_changes(before, now));
  EXPECT_THAT(printed, Contains("the nozzle's time over all blocks is 12.0 h, 2.0 h more"));
  EXPECT_THAT(printed, Contains(block.id + " is cast now, it was printed bed to bed"));
  const auto centred = said(centring_changes(before, now));
  EXPECT_THAT(centred, Contains("the most a rib sags is 3.5 mm, 1.5 mm more"));
  EXPECT_EQ(centred.at(0), "bending is used to 1.10 of what it holds, it was 0.90");
  EXPECT_THAT(said(programme_changes(before, now)),
              ElementsAre("the delay to expect from broken blocks is 3.00 days, 1.00 days more"));
  EXPECT_THAT(said(quantity_changes(before, now)),
              ElementsAre("the price of what has a rate is 1250 EUR, 250 EUR more",
                          HasSubstr("the carbon of all that is counted is 710 kg")));
  now.brief.rates.currency = "GBP";
  EXPECT_THAT(said(quantity_changes(before, now)),
              ElementsAre(HasSubstr("the carbon of all that is counted")));
}

TEST(ComparedWorks, AStageThatNoLongerStandsUnderPeople) {
  Dossier before = small_dossier();
  before.programme = Programme{};
  before.programme->order = {"v1", "v2"};
  before.programme->stages.resize(1);
  Stage& stage = before.programme->stages[0];
  stage.step = 1;
  stage.what = "place";
  stage.words = "v1";
  stage.proof.verdict = Verdict::kStands;
  stage.working.emplace();
  stage.working->verdict = Verdict::kStands;
  Dossier now = before;
  now.programme->stages[0].working->verdict = Verdict::kFalls;
  now.programme->order = {"v1"};
  EXPECT_THAT(said(programme_changes(before, now)),
              ElementsAre("step 1, place v1, goes from stands to falls",
                          "the order of placing has 1 block, it had 2"));
  EXPECT_THAT(said(programme_changes(now, before)),
              ElementsAre("step 1, place v1, goes from falls to stands",
                          "the order of placing has 2 blocks, it had 1"));
}

}  // namespace
}  // namespace skewback::lodge
