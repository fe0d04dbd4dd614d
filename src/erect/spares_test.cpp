#include "erect/spares.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <numeric>

#include "base/parallel.hpp"
#include "erect/normal.hpp"
#include "erect/sample_slab.hpp"
#include "erect/sample_spares.hpp"
#include "erect/spares_parts.hpp"

namespace skewback {
namespace {

using sample::Row;
using testing::Contains;
using testing::HasSubstr;

int place(const Network& network, const std::string& id) {
  const auto found = std::ranges::find(network.activities, id, &Activity::id);
  return found == network.activities.end() ? -1
                                           : static_cast<int>(found - network.activities.begin());
}
const Activity& named(const Network& network, const std::string& id) {
  return network.activities.at(static_cast<std::size_t>(place(network, id)));
}

TEST(Shares, MeanIsTheRateAndOddsFollowTheMargins) {
  const std::vector<double> u{0.2, 0.4, 0.4, 0.9};
  const std::vector<double> shares = break_shares(u, 0.05, 0.25);
  EXPECT_NEAR(std::accumulate(shares.begin(), shares.end(), 0.0) / 4, 0.05, 1e-12);
  EXPECT_LT(shares[0], shares[1]);
  EXPECT_EQ(shares[1], shares[2]);
  // a common shift: the normal points differ by ln(u ratio)/s
  const double s = std::sqrt(std::log(1 + 0.25 * 0.25));
  EXPECT_NEAR(normal_point(shares[3]) - normal_point(shares[1]), std::log(0.9 / 0.4) / s, 1e-9);
}

TEST(Shares, AlikeBlocksBreakAlike) {
  for (const double share : break_shares({0.5, 0.5, 0.5}, 0.03, 0.25))
    EXPECT_NEAR(share, 0.03, 1e-12);
  EXPECT_THAT(break_shares({0.1, 0.5}, 0, 0.25), testing::Each(0.0));
  EXPECT_THAT(break_shares({0, 0}, 0.02, 0.25), testing::Each(testing::DoubleNear(0.02, 1e-12)));
  EXPECT_TRUE(break_shares({}, 0.02, 0.25).empty());
}

TEST(Shares, WhatACraneIsHeldToBreaksNoBlock) {
  const Row row = sample::light_and_fragile();
  const std::vector<double> u = handling_utilisations(row.assembly, &row.lifts, nullptr);
  EXPECT_EQ(u[3], 0.8);
  EXPECT_EQ(u[0], 0.4);
}

TEST(WorksNetwork, EachWaitsForWhatItNeeds) {
  const Row row = sample::light_and_fragile();
  const Network n = works_network(row.brief, row.assembly, row.programme, &row.print, nullptr);
  const auto waits = [&](const std::string& a, const std::string& b) {
    return testing::Value(named(n, a).after, Contains(place(n, b)));
  };
  EXPECT_TRUE(waits("print b2", "print b1"));
  EXPECT_TRUE(waits("cure b2", "print b2"));
  EXPECT_TRUE(waits("journey 1", "cure b10"));
  EXPECT_TRUE(waits("place b1", "centring put up") && waits("place b1", "journey 1"));
  EXPECT_TRUE(waits("place b7", "place b6"));
  EXPECT_TRUE(waits("centring put up", "footings"));
  EXPECT_TRUE(waits("striking", "place b10") && waits("walkway", "striking"));
  for (std::size_t i = 0; i < n.activities.size(); ++i) {
    for (const int before : n.activities[i].after) EXPECT_LT(before, static_cast<int>(i));
  }
  // two a day, alike: half of 24 h each; 20 min of an 8 h day are 1 h of the calendar
  EXPECT_NEAR(named(n, "print b5").likely_s, 43200, 1e-6);
  EXPECT_NEAR(named(n, "place b5").likely_s, 3600, 1e-6);
  EXPECT_NEAR(named(n, "cure b5").likely_s, 7 * 86400.0, 1e-6);
}

TEST(WorksNetwork, LorriesBringWhatIsOnThem) {
  const Row row = sample::light_and_fragile();
  Transport transport;
  transport.pallets.resize(2);
  for (int i = 0; i < 9; ++i) {
    BeddedBlock bedded;
    bedded.block = i;
    transport.pallets[i < 4 ? 0 : 1].blocks.push_back(bedded);
  }
  transport.lorries.resize(2);
  transport.lorries[0].pallets.push_back({.pallet = 0});
  transport.lorries[1].pallets.push_back({.pallet = 1});
  const Network n = works_network(row.brief, row.assembly, row.programme, &row.print, &transport);
  EXPECT_THAT(named(n, "place b4").after, Contains(place(n, "journey 1")));
  EXPECT_THAT(named(n, "place b5").after, Contains(place(n, "journey 2")));
  EXPECT_THAT(named(n, "place b10").after, Contains(place(n, "journey 3")));  // on no lorry
  EXPECT_EQ(named(n, "journey 1").after.size(), 4U);
}

TEST(WorksNetwork, CastBlocksCureBesideThePrinting) {
  Row row = sample::light_and_fragile();
  row.print.blocks[9].way = PrintWay::kCast;
  row.print.order.pop_back();
  const Network n = works_network(row.brief, row.assembly, row.programme, &row.print, nullptr);
  EXPECT_TRUE(named(n, "cast b10").after.empty());
  EXPECT_THAT(named(n, "cure b10").after, Contains(place(n, "cast b10")));
  EXPECT_EQ(place(n, "print b10"), -1);
}

TEST(Spares, TheFragileBlockComesFirstThoughItIsTheLightest) {
  const Spares spares = sample::plan(sample::light_and_fragile());
  EXPECT_EQ(spares.risks.front().id, "b4");
  const auto& trials = spares.trials;
  ASSERT_EQ(trials.size(), 11U);
  EXPECT_LT(trials[1].expected_delay_s, 0.7 * trials[1].by_mass_s);
  EXPECT_LT(trials[1].expected_delay_s, 0.7 * trials[1].at_random_s);
  for (const SparesTrial& trial : trials) {
    EXPECT_LE(trial.expected_delay_s, trial.by_mass_s + 1e-6) << trial.spares;
    EXPECT_LE(trial.expected_delay_s, trial.at_random_s + 1e-6) << trial.spares;
  }
  EXPECT_NEAR(trials.back().expected_delay_s, trials.back().by_mass_s, 1e-6);  // all of them
  EXPECT_EQ(trials.back().late_share, 0);
}

TEST(Spares, TheOrderChangesWithOneBlocksMargin) {
  Row row = sample::light_and_fragile();
  row.lifts.lifts[3].checks[0].utilisation = 0.2;
  row.lifts.lifts[7].checks[0].utilisation = 0.6;
  const Spares spares = sample::plan(row);
  EXPECT_EQ(spares.risks.front().id, "b8");
  EXPECT_EQ(spares.risks.back().id, "b4");
}

// Ten blocks in a chain, each held back by its own break: delays add up. Print 10 h alone (3 h 20
// of an 8 h day) by planned time, cure 7 d, journey 1, 1, 2 d, placing 15, 20, 45 min of an 8 h
// day; mean times.
TEST(Spares, DelayOfABlockIsItsMakingAgainAsTheChainHasNoFloat) {
  const Spares spares = sample::plan(sample::light_and_fragile());
  for (const BlockRisk& risk : spares.risks) {
    EXPECT_NEAR(risk.again_s, 36000 * 6.4 / 6 + (7 + 7.0 / 6) * 86400, 1e-6) << risk.id;
    EXPECT_NEAR(risk.delay_s, risk.again_s, 1e-3) << risk.id;
    EXPECT_NEAR(risk.expected_s, risk.share * risk.delay_s, 1e-6) << risk.id;
    EXPECT_NEAR(risk.spared_s, risk.share * (risk.again_s - 4200), 1e-3) << risk.id;
  }
}

// b10 is there already. Another: 0.38 m3 at 5 l a minute are 4560 s, with 1200 s of setting up a
// fifth of a shift; it cures and travels as any other.
TEST(Spares, AnotherOfABlockThatIsThereIsPrintedAndCuredToo) {
  Row row = sample::light_and_fragile();
  row.brief.spares.count = 0;
  row.brief.rates.print_per_h = 60;
  row.print.blocks.pop_back();
  row.print.order.pop_back();
  const double again_s = 86400 * (5760.0 / 28800) * 6.4 / 6 + (7 + 7.0 / 6) * 86400;
  const Spares one = sample::plan(row);
  const auto b10 = std::ranges::find(one.risks, "b10", &BlockRisk::id);
  EXPECT_NEAR(b10->again_s, again_s, 1e-6);
  EXPECT_NEAR(b10->cure_s, 7 * 86400.0, 1e-6);
  EXPECT_NEAR(b10->again_cost.value_or(0), 76, 1e-9);  // the nozzle's 1.2667 h
  EXPECT_EQ(place(one.network, "print b10"), -1);
  EXPECT_THAT(one.remarks, Contains(HasSubstr("there already")));
  row.print = {};  // all are
  const Spares all = sample::plan(row);
  EXPECT_EQ(place(all.network, "print b1"), -1);
  for (const BlockRisk& risk : all.risks) EXPECT_GT(risk.again_s, (7 + 7.0 / 6) * 86400) << risk.id;
}

// Printing rules here. Two a day: thirteen take two days more than ten, at (0.9 + 4 + 1.5)/6 of
// their time on average; breakages cost what the trial says.
TEST(Spares, SparesTakeTheTablesTime) {
  Row row = sample::light_and_fragile();
  row.brief.programme.footings_s = Vec3::Constant(3600);
  row.brief.spares.count = 3;
  row.brief.programme.draws = 20000;
  const Spares spares = sample::plan(row);
  const SparesTrial &none = spares.trials[0], &three = spares.trials[3];
  EXPECT_EQ(none.table_s, 0);
  EXPECT_NEAR(three.table_s, 2 * 86400 * 6.4 / 6, 1e-3);
  const double change = three.table_s + three.expected_delay_s - none.expected_delay_s;
  EXPECT_NEAR(spares.with.mean_s - spares.without.mean_s, change,
              4 * (spares.with.sd_s + spares.without.sd_s) / std::sqrt(10000));
  const Activity& again = named(spares.network, "print b4 again");
  EXPECT_THAT(again.after, testing::ElementsAre(place(spares.network, "print b4")));
  EXPECT_THAT(named(spares.network, "print b5").after,
              testing::ElementsAre(place(spares.network, "print b4 again")));
  EXPECT_THAT(named(spares.network, "journey 1").after,
              Contains(place(spares.network, "cure b4 again")));
}

// Placed from 7 in the morning to 7 at night on Wednesday the 24th; idle from Friday to Monday.
// Made anew the first is printed by Wednesday night, the last by 4 on Thursday morning; cured on
// Tuesday and Wednesday, brought on Wednesday and Thursday. With the journey before the curing the
// last would cure from Tuesday on.
TEST(Spares, IdleDaysBetweenTwoBlocksHoldBackNeitherMore) {
  Row row = sample::light_and_fragile();
  ProgrammeRequest& p = row.brief.programme;
  p.week = {"mon", "tue", "wed", "thu", "fri"};
  p.holidays = {"2027-03-26", "2027-03-29"};
  p.centring_s = Vec3::Constant(3.3 * 86400.0);
  p.footings_s = Vec3::Constant(14 * 86400.0);
  row.brief.print.curing_s = 6 * 86400.0;
  row.brief.transport.journey_s = Vec3::Constant(86400.0);
  const Spares spares = sample::plan(row);
  double least = 1e9, most = 0;
  for (const BlockRisk& risk : spares.risks) {
    least = std::min(least, risk.delay_s);
    most = std::max(most, risk.delay_s);
  }
  EXPECT_LT(most - least, 0.5 * 86400.0);
}

// On a journey a spare is with its block: the lorries of the plan carry them.
TEST(Spares, TheChosenAreOnTheLorriesAndInTheJourneys) {
  Row row = sample::light_and_fragile();
  for (std::size_t i = 0; i < 10; ++i) {
    Block& block = row.assembly.blocks[i];
    block = sample::slab(block.id, {1.2, 0.4, 0.3});
  }
  measure(row.assembly);
  row.brief.material = {2400, 40e6};
  row.brief.spares.count = 3;
  row.brief.transport.lorry_load_kg = 1500;
  Transport transport = plan_transport(row.brief, row.assembly, row.programme, &row.print);
  const std::size_t without = transport.lorries.size();
  const Spares spares =
      plan_spares(row.brief, row.assembly, row.programme, &row.print, &row.lifts, &transport);
  EXPECT_GT(transport.lorries.size(), without);
  std::map<std::string, std::string> lorry_of;
  std::size_t carried = 0;
  for (const LorryLoad& lorry : transport.lorries) {
    EXPECT_LE(lorry.mass_kg, 1500) << lorry.id;
    for (const LoadedPallet& on : lorry.pallets) {
      for (const BeddedBlock& b :
           transport.pallets.at(static_cast<std::size_t>(on.pallet)).blocks) {
        if (b.spare) {
          EXPECT_EQ(lorry_of.at(b.id), lorry.id) << b.id;
          ++carried;
          const Activity& journey = named(spares.network, "journey " + lorry.id.substr(1));
          EXPECT_THAT(journey.after, Contains(place(spares.network, "cure " + b.id + " again")));
        }
        lorry_of[b.id] = lorry.id;
      }
    }
  }
  EXPECT_EQ(carried, 3U);
  EXPECT_THAT(transport.remarks, Contains(HasSubstr("Spares are on the lorries too")));
}

TEST(Spares, MoreThanThereAreBlocksIsRefused) {
  Row row = sample::light_and_fragile();  // ten blocks
  row.brief.file = "bridge.toml";
  row.brief.spares.wanted = true;
  row.brief.spares.count_line = 7;
  for (const int fine : {-1, 0, 10}) {
    row.brief.spares.count = fine;
    EXPECT_FALSE(too_many_spares(row.brief, row.assembly)) << fine;
  }
  row.brief.spares.count = 11;
  const auto fault = too_many_spares(row.brief, row.assembly);
  ASSERT_TRUE(fault);
  EXPECT_EQ(describe(*fault).find("bridge.toml:7:"), 0U) << describe(*fault);
  EXPECT_EQ(fault->key, "spares.count");
  EXPECT_EQ(fault->found, "11");
  EXPECT_THAT(fault->expected, HasSubstr("the 10 blocks"));
}

TEST(Spares, AsManyAsTheRiskAsks) {
  Row row = sample::light_and_fragile();
  const Spares spares = sample::plan(row);
  const auto chosen = static_cast<std::size_t>(spares.chosen);
  EXPECT_LE(spares.trials[chosen].late_share, 0.1);
  ASSERT_GT(chosen, 0U);
  EXPECT_GT(spares.trials[chosen - 1].late_share, 0.1);
  row.brief.spares.count = 2;
  const Spares two = sample::plan(row);
  EXPECT_EQ(two.chosen, 2);
  EXPECT_TRUE(two.risks[1].spare && !two.risks[2].spare);
  row.brief.spares.count = -1;
  row.brief.spares.broken_share = 0.5;
  row.brief.spares.late_risk = 1e-4;
  const Spares all = sample::plan(row);
  EXPECT_EQ(all.chosen, 10);
  EXPECT_THAT(all.remarks, Contains(HasSubstr("Every block is made twice")));
}

// Three hours of printing each at 40 an hour, and a day's delay at 300.
TEST(Spares, MoneyIsCountedWhereItIsGiven) {
  Row row = sample::light_and_fragile();
  EXPECT_FALSE(sample::plan(row).trials[0].cost);
  row.brief.spares.delay_cost = 300;
  row.brief.rates.currency = "EUR";
  EXPECT_FALSE(sample::plan(row).trials[0].cost);
  row.brief.rates.print_per_h = 40;
  const Spares spares = sample::plan(row);
  const double delay = (spares.trials[2].expected_delay_s + spares.trials[2].table_s) / 86400;
  ASSERT_TRUE(spares.trials[2].cost);
  EXPECT_NEAR(*spares.trials[2].cost, 2 * 3 * 40 + 300 * delay, 1e-9);
  EXPECT_THAT(spares.remarks, Contains(HasSubstr("By cost")));
}

TEST(Spares, TheDaybooksCountMovesTheRate) {
  const Row row = sample::light_and_fragile();
  const Spares spares = sample::plan(row, {40, 6});
  EXPECT_NEAR(spares.broken_share, (0.6 + 6) / 60, 1e-12);
  double mean = 0;
  for (const BlockRisk& risk : spares.risks) mean += risk.share / 10;
  EXPECT_NEAR(mean, spares.broken_share, 1e-12);
  EXPECT_THAT(spares.remarks, Contains(HasSubstr("6 of 40")));
}

TEST(Spares, SameOnOneThread) {
  const Row row = sample::light_and_fragile();
  const Spares many = sample::plan(row);
  const JobLimit one(1);
  const Spares alone = sample::plan(row);
  EXPECT_EQ(many.with.finish_s, alone.with.finish_s);
  for (std::size_t s = 0; s < many.trials.size(); ++s) {
    EXPECT_EQ(many.trials[s].expected_delay_s, alone.trials[s].expected_delay_s);
    EXPECT_EQ(many.trials[s].at_random_s, alone.trials[s].at_random_s);
  }
}

TEST(Spares, SayWhatIsNotKnown) {
  const Row row = sample::light_and_fragile();
  const Spares spares =
      plan_spares(row.brief, row.assembly, row.programme, nullptr, nullptr, nullptr);
  EXPECT_TRUE(spares.shares_alike);
  EXPECT_THAT(spares.remarks, Contains(HasSubstr("no print step")));
  EXPECT_THAT(spares.remarks, Contains(HasSubstr("Margins in lifting")));
}

}  // namespace
}  // namespace skewback
