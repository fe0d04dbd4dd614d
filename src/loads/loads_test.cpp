#include "loads/loads.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "loads/actions.hpp"
#include "loads/edges.hpp"
#include "loads/shares.hpp"
#include "loads/wind.hpp"

namespace skewback {
namespace {

constexpr double kWide = 2, kLong = 10, kHigh = 0.5;

/// A level deck of five boxes side by side along x, on two fixed ones.
Assembly deck() {
  Assembly assembly;
  for (int i = 0; i < 5; ++i) {
    Block block;
    block.id = "b" + std::to_string(i + 1);
    block.density = 2000;
    block.solid = box({2.0 * i, 0, 0}, {2.0 * (i + 1), kWide, kHigh});
    assembly.blocks.push_back(std::move(block));
  }
  measure(assembly);
  return assembly;
}

Brief level_deck() {
  Brief brief;
  brief.plan.outline = {{0, 0}, {kLong, 0}, {kLong, kWide}, {0, kWide}};
  brief.plan.supports = {{"west", {0, kWide}, {0, 0}, 0}, {"east", {kLong, 0}, {kLong, kWide}, 0}};
  brief.plan.free_edges = {{0, 1, {{0, 0}, {kLong, 0}}}, {1, 0, {{kLong, kWide}, {0, kWide}}}};
  brief.walkway.width_m = kWide;
  brief.walkway.lines = {{{0, 1}, {kLong, 1}}};
  brief.parapet.weight_n_per_m = 500;
  brief.loads.people_pa = 5e3;
  return brief;
}

const LoadCase& case_of(const LoadSet& set, const std::string& id) {
  const auto it = std::ranges::find(set.cases, id, &LoadCase::id);
  if (it == set.cases.end()) throw std::runtime_error("no case " + id);
  return *it;
}

Vec3 sum_of(const LoadCase& load) {
  Vec3 sum = Vec3::Zero();
  for (const LiveForce& f : load.live) sum += f.force;
  return sum;
}

TEST(LoadCases, EveryCaseHasItsNoteAndEveryForceItsBlock) {
  const Assembly assembly = deck();
  const LoadSet set = load_cases(level_deck(), assembly);
  ASSERT_EQ(set.cases.size(), set.notes.size());
  for (std::size_t i = 0; i < set.cases.size(); ++i) {
    EXPECT_EQ(set.cases[i].id, set.notes[i].id);
    EXPECT_EQ(std::ranges::count(set.cases, set.cases[i].id, &LoadCase::id), 1) << set.cases[i].id;
    for (const LiveForce& f : set.cases[i].live) EXPECT_GE(f.block, 0) << set.cases[i].id;
  }
  EXPECT_EQ(set.cases.front().id, "dead");
}

TEST(LoadCases, PatternsAddUpToTheirAreas) {
  const LoadSet set = load_cases(level_deck(), deck());
  const double all = 5e3 * kLong * kWide;
  EXPECT_NEAR(sum_of(case_of(set, "full")).z(), -all, 1e-3 * all);
  EXPECT_NEAR(sum_of(case_of(set, "left-side")).z(), -all / 2, 1e-3 * all);
  EXPECT_NEAR(sum_of(case_of(set, "middle")).z(), -all / 3, 1e-3 * all);
  EXPECT_NEAR(sum_of(case_of(set, "ends")).z(), -2 * all / 3, 1e-3 * all);
  EXPECT_NEAR(sum_of(case_of(set, "chequer-a")).z(), -all / 2, 1e-3 * all);
  EXPECT_NEAR(sum_of(case_of(set, "patch-1")).z(), -all / 4, 1e-3 * all);
}

// A dead load of 1.0 beside a live load of 1.35 must always be there: equal factors on both hide
// what a partial load does.
TEST(LoadCases, LightDeadLoadIsCombinedWithFullLiveLoad) {
  const Brief brief = level_deck();
  const LoadSet set = load_cases(brief, deck());
  const LoadCase& heavy = case_of(set, "heavy-full");
  EXPECT_NEAR(heavy.gravity.z(), -1.35 * 9.81, 1e-12);
  EXPECT_NEAR(sum_of(heavy).z(), -1.35 * 5e3 * kLong * kWide, 200);
  for (const char* id : {"push-1-in", "rail-west-east"}) {
    EXPECT_NEAR(case_of(set, id).gravity.z(), -9.81, 1e-12) << id;
  }
}

// EN 1990:2002, 6.10a and 6.10b, by hand with psi_0 0.4 and xi 0.85: 1.35 of weight and 0.54 of
// people; 1.1475 of weight and 1.35 of people. Light weight stays with the full people.
TEST(LoadCases, HeavyWeightByAAndB) {
  Brief brief = level_deck();
  brief.factors.expression = "6.10a/b";
  const LoadSet set = load_cases(brief, deck());
  const double all = 5e3 * kLong * kWide;
  const LoadCase &a = case_of(set, "heavy-full-a"), &b = case_of(set, "heavy-full-b");
  EXPECT_NEAR(a.gravity.z(), -1.35 * 9.81, 1e-12);
  EXPECT_NEAR(sum_of(a).z(), -0.54 * all, 1e-3 * all);
  EXPECT_NEAR(b.gravity.z(), -1.1475 * 9.81, 1e-12);
  EXPECT_NEAR(sum_of(b).z(), -1.35 * all, 1e-3 * all);
  EXPECT_EQ(std::ranges::count(set.cases, std::string("heavy-full"), &LoadCase::id), 0);
  EXPECT_NEAR(case_of(set, "heavy").gravity.z(), -1.35 * 9.81, 1e-12);
  EXPECT_NEAR(case_of(set, "push-1-in").gravity.z(), -9.81, 1e-12);
  EXPECT_NEAR(sum_of(case_of(set, "push-1-in")).z(), -1.35 * all, 1e-3 * all);
}

// A combination is its parts times their factors: forces add up to the case.
TEST(LoadCases, CombinationsSayWhatTheyAreMadeOf) {
  Brief brief = level_deck();
  brief.loads.wind_speed_m_s = 26;
  brief.loads.snow_pa = 700;
  const LoadSet set = load_cases(brief, deck());
  const auto action = [&](const std::string& id) {
    const auto it = std::ranges::find(set.actions, id, &LoadCase::id);
    return it == set.actions.end() ? sum_of(case_of(set, id)) : sum_of(*it);
  };
  for (std::size_t i = 0; i < set.cases.size(); ++i) {
    Vec3 sum = Vec3::Zero();
    const CaseNote& note = set.notes[i];
    ASSERT_EQ(note.parts.size(), note.variable_factors.size()) << note.id;
    for (std::size_t k = 0; k < note.parts.size(); ++k)
      sum += note.variable_factors[k] * action(note.parts[k].action);
    EXPECT_NEAR((sum - sum_of(set.cases[i])).norm(), 0, 1e-6 * (1 + sum.norm())) << note.id;
    EXPECT_NEAR(set.cases[i].gravity.z(), -9.81 * note.dead_factor, 1e-12) << note.id;
  }
  for (const LoadCase& lone : set.actions) EXPECT_NEAR(lone.gravity.z(), -9.81, 1e-12) << lone.id;
  EXPECT_EQ(set.actions.size(), 2u + 2 + 8 + 2);  // pushes, rails, wind, snow
}

// EN 1991-2:2003, 5.4: a tenth of all people along the deck. By hand: 0.1 * 5 kPa * 20 m2 = 10 kN.
TEST(LoadCases, PeoplePushAlongByATenth) {
  const LoadSet set = load_cases(level_deck(), deck());
  EXPECT_NEAR(sum_of(case_of(set, "push-1-in")).x(), 1.35 * 10e3, 20);
  EXPECT_NEAR(sum_of(case_of(set, "push-1-out")).x(), -1.35 * 10e3, 20);
}

// 1 kN/m outward on 10 m of edge, 1.1 m over the deck: 13.5 kN and its moment about the deck.
TEST(LoadCases, TheRailIsPushedOutwardAtItsTop) {
  const LoadSet set = load_cases(level_deck(), deck());
  const LoadCase& load = case_of(set, "rail-west-east");  // the edge y = 0
  EXPECT_NEAR(sum_of(load).y(), -1.35 * 10e3, 1);
  for (const LiveForce& f : load.live) EXPECT_NEAR(f.point.z(), kHigh + 1.1, 1e-9);
}

TEST(LoadCases, WindPushesWhatItSees) {
  Brief brief = level_deck();
  brief.loads.wind_speed_m_s = 26;
  brief.loads.wind_height_m = 3;
  const Assembly assembly = deck();
  const LoadSet set = load_cases(brief, assembly);
  const double q = peak_wind_pa(26, 3, 0.05);
  // by hand: 10 m x 0.5 m of deck, and 0.3 m for each of two open parapets
  const double side = 2.4 * q * (kLong * kHigh + 2 * kOpenParapet * kLong);
  EXPECT_NEAR(sum_of(case_of(set, "wind-north")).y(), 1.5 * side, 1e-6 * side);
  // from the end it sees one block's end however many stand behind it, and no parapet
  const double end = 2.4 * q * kWide * kHigh;
  EXPECT_NEAR(sum_of(case_of(set, "wind-east")).x(), 1.5 * end, 1e-6 * end);
  EXPECT_NEAR(sum_of(case_of(set, "wind-east")).z(), 1.5 * 0.9 * q * kLong * kWide, 1);
  EXPECT_NEAR(sum_of(case_of(set, "people-wind-east")).x(), 1.5 * 0.3 * end, 1e-6 * end);
}

// EN 1990:2002, 6.10, by hand: what leads has 1.5, what accompanies 1.5 psi_0 (0.8 snow, 0.3 wind).
TEST(LoadCases, WindAndSnowComeTogether) {
  Brief brief = level_deck();
  brief.loads.wind_speed_m_s = 26;
  brief.loads.wind_height_m = 3;
  brief.loads.snow_pa = 700;
  const LoadSet set = load_cases(brief, deck());
  const double q = peak_wind_pa(26, 3, 0.05), snow = 0.8 * 700 * kLong * kWide;
  const double end = 2.4 * q * kWide * kHigh, down = 0.9 * q * kLong * kWide;
  const Vec3 leads = sum_of(case_of(set, "wind-snow-east"));
  EXPECT_NEAR(leads.x(), 1.5 * end, 1e-6 * end);
  EXPECT_NEAR(leads.z(), -1.5 * down - 1.5 * 0.8 * snow, 1);
  const Vec3 follows = sum_of(case_of(set, "snow-wind-east"));
  EXPECT_NEAR(follows.x(), 1.5 * 0.3 * end, 1e-6 * end);
  EXPECT_NEAR(follows.z(), -1.5 * snow - 1.5 * 0.3 * down, 1);
  brief.loads.snow_pa = 0;
  const LoadSet dry = load_cases(brief, deck());
  EXPECT_EQ(std::ranges::count(dry.cases, std::string("wind-snow-east"), &LoadCase::id), 0);
}

TEST(LoadCases, SnowLiesOnThePlanWithoutPeople) {
  Brief brief = level_deck();
  brief.loads.people_pa = 0;
  brief.loads.snow_pa = 700;
  const LoadSet set = load_cases(brief, deck());
  EXPECT_NEAR(sum_of(case_of(set, "snow")).z(), -1.5 * 0.8 * 700 * kLong * kWide, 1);
  EXPECT_EQ(std::ranges::count(set.cases, std::string("full"), &LoadCase::id), 0);
}

// 80 + 40 kN, wherever it stands wholly on the deck.
TEST(LoadCases, TheVehicleStandsOnItsWheels) {
  Brief brief = level_deck();
  brief.loads.vehicle = true;
  const LoadSet set = load_cases(brief, deck());
  int places = 0;
  for (const LoadCase& load : set.cases) {
    if (!load.id.starts_with("vehicle")) continue;
    ++places;
    EXPECT_NEAR(sum_of(load).z(), -1.35 * 120e3, 1.35 * 120e3 * 0.05) << load.id;
    EXPECT_NEAR(sum_of(load).x(), 1.35 * 0.6 * 120e3, 1.35 * 72e3 * 0.05) << load.id;
  }
  EXPECT_GT(places, 5);
}

TEST(LoadCases, ALongDeckCarriesLessPeople) {
  Brief brief = level_deck();
  brief.loads.people_by_length = true;
  brief.plan.outline = {{0, 0}, {40, 0}, {40, kWide}, {0, kWide}};
  brief.walkway.lines = {{{0, 1}, {40, 1}}};
  const LoadSet set = load_cases(brief, deck());  // the blocks carry all of it
  EXPECT_NEAR(sum_of(case_of(set, "full")).z(), -3714.2857 * 40 * kWide, 10);  // EN 1991-2, 40 m
  EXPECT_NEAR(sum_of(case_of(set, "patch-1")).z(), -5e3 * 10 * kWide, 10);
}

}  // namespace
}  // namespace skewback
