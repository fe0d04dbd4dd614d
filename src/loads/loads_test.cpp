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
  EXPECT_EQ(set.actions.size(), 2u + 2 + 8 + 3);  // pushes, rails, wind, snow
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

// By hand: half of 10 m x 2 m at 1.5 x 0.8 x 700 Pa, its middle a quarter of the length from the
// support; a block that straddles the middle carries half of what it does under all of the snow.
TEST(LoadCases, SnowDriftsToTheHalfBesideEachSupport) {
  Brief brief = level_deck();
  brief.loads.snow_pa = 700;
  const LoadSet set = load_cases(brief, deck());
  const double half = 1.5 * 0.8 * 700 * kLong * kWide / 2;
  for (const auto& [id, middle] : {std::pair("snow-half-west", 2.5), {"snow-half-east", 7.5}}) {
    double moment = 0;
    for (const LiveForce& f : case_of(set, id).live) moment -= f.force.z() * f.point.x();
    EXPECT_NEAR(sum_of(case_of(set, id)).z(), -half, 1e-3) << id;
    EXPECT_NEAR(moment / half, middle, 1e-6) << id;
  }
  EXPECT_EQ(std::ranges::count(set.cases, std::string("snow-east"), &LoadCase::id), 0);
}

// The same deck run north: the drifts go by its supports, not by the compass.
TEST(LoadCases, SnowDriftsAlongTheBridgeWhereverItPoints) {
  const auto turned = [](const Vec2& p) { return Vec2(-p.y(), p.x()); };
  Brief brief = level_deck();
  brief.loads.snow_pa = 700;
  for (Vec2& p : brief.plan.outline) p = turned(p);
  for (Support& s : brief.plan.supports) s.a = turned(s.a), s.b = turned(s.b);
  for (FreeEdge& edge : brief.plan.free_edges)
    for (Vec2& p : edge.line) p = turned(p);
  for (Vec2& p : brief.walkway.lines.front()) p = turned(p);
  Assembly assembly = deck();
  for (Block& block : assembly.blocks)
    for (Vec3& v : block.solid.vertices) v.head<2>() = turned(v.head<2>());
  measure(assembly);
  const LoadSet set = load_cases(brief, assembly);
  const double half = 1.5 * 0.8 * 700 * kLong * kWide / 2;
  double moment = 0;
  for (const LiveForce& f : case_of(set, "snow-half-east").live)
    moment -= f.force.z() * f.point.y();
  EXPECT_NEAR(sum_of(case_of(set, "snow-half-east")).z(), -half, 1e-3);
  EXPECT_NEAR(moment / half, 7.5, 1e-6);
}

TEST(LoadCases, SnowLiesOnThePlanWithoutPeople) {
  Brief brief = level_deck();
  brief.loads.people_pa = 0;
  brief.loads.snow_pa = 700;
  const LoadSet set = load_cases(brief, deck());
  EXPECT_NEAR(sum_of(case_of(set, "snow")).z(), -1.5 * 0.8 * 700 * kLong * kWide, 1);
  EXPECT_EQ(std::ranges::count(set.cases, std::string("full"), &LoadCase::id), 0);
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

/// The walk of that deck on frames, from 1.5 m at one end to 2.5 m at the other.
Brief raised_deck() {
  Brief brief = level_deck();
  brief.walkway.surface = {{{0, 1, 1.5}, {kLong, 1, 2.5}}};
  brief.loads.wind_speed_m_s = 26;
  brief.loads.wind_height_m = 3;
  return brief;
}

double walk_at(double x) { return 1.5 + x / kLong; }

// By hand: feet are on the walk, hands 1.1 m over it.
TEST(LoadCases, PushesStandOnTheWalkNotOnTheBlocks) {
  const LoadSet set = load_cases(raised_deck(), deck());
  for (const LiveForce& f : case_of(set, "rail-west-east").live)
    EXPECT_NEAR(f.point.z(), walk_at(f.point.x()) + 1.1, 1e-9);
  double moment = 0, push = 0;
  for (const LiveForce& f : case_of(set, "push-1-in").live) {
    moment += f.force.x() * f.point.z();
    push += f.force.x();
  }
  EXPECT_NEAR(moment / push, 2.0, 1e-6);  // of an even crowd, at the mean height of the walk
  Brief undrawn = level_deck();
  const LoadSet over = load_cases(undrawn, deck(), 0.3);
  for (const LiveForce& f : case_of(over, "rail-west-east").live)
    EXPECT_NEAR(f.point.z(), kHigh + 0.3 + 1.1, 1e-9);
}

// By hand: blocks, two open parapets over the walk, and what is between blocks and walk, once.
TEST(LoadCases, WindSeesARaisedWalk) {
  const LoadSet set = load_cases(raised_deck(), deck());
  const double q = 2.4 * peak_wind_pa(26, 3, 0.05), blocks = kLong * kHigh,
               rails = 2 * kOpenParapet * kLong, between = kLong * (2.0 - kHigh);
  const LoadCase& load = case_of(set, "wind-north");
  const double side = 1.5 * q * (blocks + rails + between);
  EXPECT_NEAR(sum_of(load).y(), side, 1e-6 * side);
  double moment = 0;
  for (const LiveForce& f : load.live) moment += f.force.y() * f.point.z();
  double between_z = 0;  // integral of (walk^2 - high^2) / 2 along the deck
  const int n = 1000;
  for (int i = 0; i < n; ++i) {
    const double w = walk_at((i + 0.5) / n * kLong);
    between_z += (w * w - kHigh * kHigh) / 2 * kLong / n;
  }
  const double by_hand = 1.5 * q * (blocks * kHigh / 2 + rails * (2.0 + 0.55) + between_z);
  EXPECT_NEAR(moment, by_hand, 1e-4 * by_hand);
}

// Without a walkway people stand anywhere, and crowds are as many and push as much.
TEST(LoadCases, WithoutAWalkwayThereAreAsManyPatterns) {
  Brief brief = level_deck();
  const LoadSet with = load_cases(brief, deck());
  brief.walkway = {};
  const LoadSet without = load_cases(brief, deck());
  ASSERT_EQ(without.cases.size(), with.cases.size());
  for (std::size_t i = 0; i < with.cases.size(); ++i) {
    EXPECT_EQ(without.cases[i].id, with.cases[i].id);
    EXPECT_NEAR((sum_of(without.cases[i]) - sum_of(with.cases[i])).norm(), 0, 1) << i;
  }
}

// A slope of 1 in 2 is sqrt(1.25) as long as its plan.
TEST(LoadCases, AParapetWeighsByItsTrueLength) {
  Brief brief = level_deck();
  brief.walkway.surface = {{{0, 1, 1}, {kLong, 1, 6}}};
  Assembly assembly = deck();
  add_carried(brief, assembly);
  double mass = 0;
  for (const Block& block : assembly.blocks)
    for (const CarriedMass& m : block.carried)
      if (m.kind == Carried::kParapet) mass += m.mass_kg;
  EXPECT_NEAR(mass * 9.81, 500 * 2 * kLong * std::sqrt(1.25), 2);
}

// The codes give the push on a rail per metre of rail: 1 kN/m x 10 m x sqrt(1.25) on 1 in 2.
TEST(LoadCases, ARailIsPushedOverItsTrueLength) {
  Brief brief = level_deck();
  brief.walkway.surface = {{{0, 1, 1}, {kLong, 1, 6}}};
  const LoadSet set = load_cases(brief, deck());
  EXPECT_NEAR(sum_of(case_of(set, "rail-west-east")).y(), -1.35 * 10e3 * std::sqrt(1.25), 1);
}

// Two blocks 0.5 m high with a slit of 10 mm between them, under the middle of the 26th tenth of a
// metre: the rail's foot is at the top of a block there too, not half way down it.
TEST(LoadCases, TheFootOfARailOverASlitIsOnTop) {
  Assembly assembly;
  for (const auto& [from, to] : {std::pair(0.0, 2.545), {2.555, 10.0}}) {
    Block block;
    block.id = "b" + std::to_string(assembly.blocks.size());
    block.density = 2000;
    block.solid = box({from, 0, 0}, {to, kWide, kHigh});
    assembly.blocks.push_back(std::move(block));
  }
  measure(assembly);
  const LoadSet set = load_cases(level_deck(), assembly);
  const LoadCase& load = case_of(set, "rail-west-east");
  for (const LiveForce& f : load.live) EXPECT_NEAR(f.point.z(), kHigh + 1.1, 1e-9) << f.point.x();
  EXPECT_NEAR(sum_of(load).y(), -1.35 * 10e3, 1);
}

}  // namespace
}  // namespace skewback
