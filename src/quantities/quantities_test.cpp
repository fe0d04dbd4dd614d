#include "quantities/quantities.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <regex>
#include <sstream>

#include "brief/by_key.hpp"
#include "quantities/timber.hpp"

namespace skewback {
namespace {

Brief printed() {
  Brief brief;
  brief.section.hollow = true;
  brief.plan.outline = {{0, 0}, {10, 0}, {10, 2}, {0, 2}};
  brief.plan.supports = {{"west", {0, 2}, {0, 0}, 0}, {"east", {10, 0}, {10, 2}, 0}};
  return brief;
}

Assembly one_block(double volume_m3, double density) {
  Assembly assembly;
  Block block;
  block.id = "b";
  block.density = density;
  block.solid = box({0, 0, 0}, {volume_m3, 1, 1});
  assembly.blocks.push_back(block);
  measure(assembly);
  return assembly;
}

const QuantityLine& line_of(const Quantities& q, const std::string& what) {
  const auto it = std::ranges::find_if(
      q.lines, [&](const QuantityLine& l) { return l.what.starts_with(what); });
  if (it == q.lines.end()) throw std::runtime_error("no line " + what);
  return *it;
}

// By hand: 14 m3 of 2,200 kg/m3 at 0.15, 200 kg of steel at 1.9: 4,620 and 380 kg.
TEST(TakeOff, CarbonIsMassTimesTheFactor) {
  Brief brief = printed();
  brief.carbon.printed.own = 0.15;
  brief.carbon.steel.own = 1.9;
  brief.ground.ties = {{"tie", 0, 1, 1, 0, 0}};
  Groundworks ground;
  TieForce tie;
  tie.id = "tie";
  tie.length_m = 10;
  tie.diameter_m = std::sqrt(200.0 / 7850 / 10 * 4 / 3.14159265358979323846);
  ground.ties = {tie};
  const Quantities q = take_off(brief, one_block(14, 2200), ground, 20);
  EXPECT_NEAR(line_of(q, "printed").carbon_kg[1], 4620, 1e-6);
  EXPECT_NEAR(line_of(q, "tie rods").carbon_kg[1], 380, 1e-6);
  double sum = 0;
  for (const QuantityLine& line : q.lines) sum += line.carbon_kg[1];
  EXPECT_NEAR(q.carbon_kg[1], sum, 1e-9);
  EXPECT_NEAR(q.steel_kg, 200, 1e-9);
}

// The same and 500 kg of plywood at 0.68 (usual, from memory): 4,620 + 380 + 340 = 5,340 kg, worked
// by hand.
TEST(TakeOff, CarbonOfConcreteSteelAndPlywoodAddsUp) {
  Brief brief = printed();
  brief.carbon.printed.own = 0.15;
  brief.carbon.steel.own = 1.9;
  brief.ground.footing_depth_m = 0;
  brief.ground.ties = {{"tie", 0, 1, 1, 0, 0}};
  Groundworks ground;
  ground.ties.resize(1);
  ground.ties[0].length_m = 10;
  ground.ties[0].diameter_m = std::sqrt(200.0 / 7850 / 10 * 4 / 3.14159265358979323846);
  Quantities q = take_off(brief, one_block(14, 2200), ground, 20);
  add_centring(brief, {.sheets_m2 = 40, .sheets_kg = 500}, q);
  EXPECT_NEAR(line_of(q, "centring: sheets").carbon_kg[1], 340, 1e-6);
  double footings = 0;
  for (const QuantityLine& line : q.lines)
    if (line.what == "footings") footings = line.carbon_kg[1];
  EXPECT_NEAR(q.carbon_kg[1] - footings, 5340, 1e-6);
}

// By hand: as drawn, two of (2 + 2 x 0.5) x 1.2 x 0.5 m are 3.6 m3; as checked, with 0.1 m more
// under the bearings, 3.9 m3.
TEST(TakeOff, FootingsAreMeasuredAsTheyAreChecked) {
  Brief brief = printed();
  brief.ground.footing_length_m = 0.5;
  brief.ground.footing_width_m = 1.2;
  brief.ground.footing_depth_m = 0.5;
  Groundworks ground;
  EXPECT_NEAR(line_of(take_off(brief, one_block(14, 2200), ground, 20), "footings").amount, 3.6,
              1e-12);
  ground.footings.resize(2);
  for (FootingReport& footing : ground.footings) footing.size = {3, 0.1, 1.2, 0.5};
  EXPECT_NEAR(line_of(take_off(brief, one_block(14, 2200), ground, 20), "footings").amount, 3.9,
              1e-12);
}

// A plate of 0.5 x 0.4 m, 20 mm thick: 0.004 m3, 31.4 kg; at 5 a kilogram 157.
TEST(TakeOff, ShoesAreTheirPlates) {
  Brief brief = printed();
  brief.rates.steel_per_kg = 5;
  Groundworks ground;
  ground.shoes.resize(1);
  ground.shoes[0].plate_along_m = 0.5;
  ground.shoes[0].plate_across_m = 0.4;
  ground.shoes[0].plate_thickness_m = 0.02;
  const Quantities q = take_off(brief, one_block(2, 2200), ground, 20);
  EXPECT_NEAR(line_of(q, "shoes").mass_kg, 31.4, 1e-9);
  ASSERT_TRUE(line_of(q, "shoes").money);
  EXPECT_NEAR(*line_of(q, "shoes").money, 157, 1e-9);
  EXPECT_EQ(q.steel_kg, 0) << "ties alone are compared with the slab";
}

/// "section.leaf, web; form.rise; weight of everything" names section.leaf, section.web, form.rise.
std::vector<std::string> keys_named(const std::string& moved_by) {
  std::vector<std::string> keys;
  static const std::regex piece("([a-z_]+)\\.([a-z_]+(, [a-z_]+)*)");
  for (std::sregex_iterator it(moved_by.begin(), moved_by.end(), piece), end; it != end; ++it) {
    std::stringstream names((*it)[2].str());
    for (std::string name; std::getline(names, name, ',');)
      keys.push_back((*it)[1].str() + "." + name.substr(name.find_first_not_of(' ')));
  }
  return keys;
}

// "depth" stands for depth_crown and depth_springing, "plan.support" for all that a support has.
TEST(TakeOff, WhatMovesALineAreKeysOfTheBrief) {
  Brief brief = printed();
  brief.walkway.width_m = 1.2;
  brief.walkway.weight_pa = 500;
  Groundworks ground;
  ground.shoes.resize(1);
  ground.shoes[0].plate_along_m = ground.shoes[0].plate_across_m = 0.5;
  ground.shoes[0].plate_thickness_m = 0.02;
  PrintTotals print;
  print.print_s = 3600;
  print.blocks = 1;
  print.cast_m3 = 1;
  print.cast_kg = 2200;
  Quantities q = take_off(brief, one_block(14, 2200), ground, 20, print, 2, {1, 1, 2200, 3600});
  std::size_t named = 0;
  for (const QuantityLine& line : q.lines)
    for (const std::string& key : keys_named(line.moved_by)) {
      ++named;
      EXPECT_TRUE(std::ranges::any_of(listed_keys(),
                                      [&](const ListedKey& k) { return k.path.starts_with(key); }))
          << key << " of " << line.what;
    }
  EXPECT_GE(q.lines.size(), 8U);
  EXPECT_GE(named, 20U);
}

// Of 14 m3 (30,800 kg) 12 are there already: carbon and money are of 2 m3 (4,400 kg).
TEST(TakeOff, BlocksUsedAgainCostNothingAnew) {
  Brief brief = printed();
  brief.rates.concrete_per_m3 = 180;
  brief.carbon.printed.own = 0.1;
  const Quantities q = take_off(brief, one_block(14, 2200), {}, 20, {}, {}, {}, {6, 12, 26400});
  EXPECT_NEAR(line_of(q, "printed concrete of the blocks").amount, 2, 1e-9);
  EXPECT_NEAR(line_of(q, "printed concrete of the blocks").carbon_kg[1], 440, 1e-9);
  EXPECT_NEAR(line_of(q, "blocks used again").mass_kg, 26400, 1e-9);
  EXPECT_EQ(line_of(q, "blocks used again").carbon_kg[2], 0);
  EXPECT_NEAR(q.money.value_or(0), 360, 1e-9);
  EXPECT_NEAR(q.concrete_m3, 14, 1e-9);
  const Quantities all = take_off(brief, one_block(14, 2200), {}, 20, {}, {}, {}, {7, 14, 30800});
  for (const QuantityLine& line : all.lines) EXPECT_NE(line.what, "printed concrete of the blocks");
}

TEST(TakeOff, OnlyWhatHasARateIsPriced) {
  Brief brief = printed();
  brief.rates.concrete_per_m3 = 180;
  const Quantities q = take_off(brief, one_block(2, 2200), {}, 20);
  ASSERT_TRUE(q.money);
  EXPECT_NEAR(*q.money, 360, 1e-9);
  EXPECT_TRUE(std::ranges::count(q.not_priced, std::string("footings")) == 1);
  EXPECT_FALSE(take_off(printed(), one_block(2, 2200), {}, 20).money);
}

// 9,000 s of nozzle at 40 an hour: 2.5 h and 100. Printing adds no mass: the concrete is counted.
TEST(TakeOff, PrintingIsWhatThePathsTake) {
  Brief brief = printed();
  brief.rates.print_per_h = 40;
  const Quantities without = take_off(brief, one_block(2, 2200), {}, 20);
  EXPECT_FALSE(without.print);
  EXPECT_THROW((void)line_of(without, "printing"), std::runtime_error);
  PrintTotals totals;
  totals.path_m = 1350;
  totals.print_s = 9000;
  totals.mix_m3 = 0.6;
  totals.blocks = 7;
  const Quantities with = take_off(brief, one_block(2, 2200), {}, 20, totals);
  EXPECT_NEAR(line_of(with, "printing").amount, 2.5, 1e-12);
  ASSERT_TRUE(with.money);
  EXPECT_NEAR(*with.money, 100, 1e-9);
  EXPECT_NEAR(with.carbon_kg[1], without.carbon_kg[1], 1e-9);
  ASSERT_TRUE(with.print);
  EXPECT_NEAR(with.print->path_m, 1350, 1e-12);
  totals.blocks = 0;
  EXPECT_FALSE(take_off(brief, one_block(2, 2200), {}, 20, totals).print);
}

// Two of 5 m3 are cast: 3 m3 at 0.15 and 2 m3 at 0.1 kg CO2e a kg, 2,200 kg/m3: 990 + 440 kg.
TEST(TakeOff, CastBlocksAreNotCountedAsPrinted) {
  Brief brief = printed();
  brief.carbon.printed.own = 0.15;
  brief.carbon.concrete.own = 0.1;
  PrintTotals totals;
  totals.blocks = 3;
  totals.cast_m3 = 2;
  totals.cast_kg = 4400;
  const Quantities q = take_off(brief, one_block(5, 2200), {}, 20, totals);
  const auto& made = line_of(q, "printed concrete of the blocks");
  const auto& cast = line_of(q, "concrete of blocks that are cast");
  EXPECT_NEAR(made.amount, 3, 1e-12);
  EXPECT_NEAR(made.mass_kg, 6600, 1e-9);
  EXPECT_NEAR(made.carbon_kg[1], 990, 1e-9);
  EXPECT_NEAR(cast.amount, 2, 1e-12);
  EXPECT_NEAR(cast.carbon_kg[1], 440, 1e-9);
  EXPECT_NEAR(q.concrete_m3, 5, 1e-12);
}

// 60 t by mass are three loads of 24 t; a plan that needs seven is what is paid for: 7 x 400.
TEST(TakeOff, LorriesAreThoseOfThePlanOfTheTransport) {
  Brief brief = printed();
  brief.rates.lorry_per_load = 400;
  const Assembly sixty_tonnes = one_block(25, 2400);
  const Quantities by_mass = take_off(brief, sixty_tonnes, {}, 20);
  EXPECT_EQ(by_mass.lorries, 3);
  const Quantities planned = take_off(brief, sixty_tonnes, {}, 20, {}, 7);
  EXPECT_EQ(planned.lorries, 7);
  EXPECT_NEAR(line_of(planned, "lorry").amount, 7, 1e-12);
  ASSERT_TRUE(planned.money);
  EXPECT_NEAR(*planned.money, 2800, 1e-9);
  EXPECT_NEAR(planned.carbon_kg[1], by_mass.carbon_kg[1], 1e-9);
}

TEST(TakeOff, SparesHaveLinesOfTheirOwn) {
  Brief brief = printed();
  brief.rates.concrete_per_m3 = 900;
  brief.rates.print_per_h = 60;
  const Assembly blocks = one_block(25, 2400);
  const Quantities without = take_off(brief, blocks, {}, 20);
  const Quantities with = take_off(brief, blocks, {}, 20, {}, {}, {2, 0.5, 1200, 7200});
  EXPECT_NEAR(line_of(with, "spare blocks").amount, 0.5, 1e-12);
  EXPECT_NEAR(
      with.carbon_kg[1] - without.carbon_kg[1],
      1200 * (brief.carbon.printed.own > 0 ? brief.carbon.printed.own : brief.carbon.printed.usual),
      1e-9);
  EXPECT_NEAR(*with.money - *without.money, 0.5 * 900 + 2 * 60, 1e-9);
  EXPECT_EQ(with.concrete_m3, without.concrete_m3);
}

// Worked by hand to EN 1992-1-1: span 8 m, d 0.40, h 0.44 m: load 1.35 (11 + 1 + 5) = 22.95 kPa,
// M = 183.6 kNm/m, k = 0.0675, z = 0.386 m, A = 1094 mm2/m; least 0.26 * 2.896 / 500 * 0.4 m =
// 602 mm2/m.
TEST(Slab, IsWhatTheRuleGivesByHand) {
  const SlabDesign slab = solid_slab(8, 20);
  EXPECT_NEAR(slab.depth_m, 0.44, 1e-12);
  EXPECT_NEAR(slab.moment_nm_per_m, 183.6e3, 1);
  EXPECT_NEAR(slab.steel_mm2_per_m, 1094, 2);
  EXPECT_NEAR(slab.concrete_m3, 8.8, 1e-12);
  EXPECT_NEAR(slab.steel_kg, 1.1 * (1.2 * 1094 + 2 * 602) * 1e-6 * 20 * 7850, 2);
}

}  // namespace
}  // namespace skewback
