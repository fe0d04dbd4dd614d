#include "erect/schedule.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "base/parallel.hpp"
#include "erect/dates.hpp"
#include "erect/draw.hpp"
#include "erect/normal.hpp"
#include "erect/random.hpp"
#include "erect/sample_network.hpp"

namespace skewback {
namespace {

using sample::activity;

/// Two ways side by side, then one: 0 and 1 -> 2.
Network fork() {
  return {"2027-03-01",
          {activity("a", 2, 5, 8, {}), activity("b", 3, 4, 9, {}), activity("c", 1, 1, 2, {0, 1})}};
}

TEST(Schedule, FloatIsWhatAnActivityMayWait) {
  const PertResult result = pert(fork());
  // means 5, 4.6667, 1.1667
  EXPECT_NEAR(result.duration_s, 5 + 7.0 / 6, 1e-12);
  EXPECT_NEAR(result.float_s[0], 0, 1e-12);
  EXPECT_NEAR(result.float_s[1], 1.0 / 3, 1e-12);
  EXPECT_EQ(result.critical, (std::vector<int>{0, 2}));
}

TEST(Schedule, WhatIsDoneIsNoLongerDrawnAndNothingBeforeItMatters) {
  Network network = fork();
  network.activities[0].done = true;
  network.activities[0].finish_s = 20;
  const Draws draws = draw_programme(network, {}, 2000, 3);
  EXPECT_GE(draws.finish_s.front(), 21);
  EXPECT_LE(draws.finish_s.back(), 22);
  EXPECT_EQ(draws.critical_share[1], 0);
  EXPECT_EQ(draws.critical_share[2], 1);
  EXPECT_EQ(pert(network).critical, (std::vector<int>{0, 2}));
  EXPECT_NEAR(pert(network).sd_s, 1.0 / 6, 1e-12);
}

TEST(Schedule, SameBytesOnOneThreadAndOnMany) {
  const std::vector<Breakage> breakages{{2, 0.3, 7, false, 0}};
  const Draws many = draw_programme(fork(), breakages, 20000, 11);
  const JobLimit one(1);
  const Draws alone = draw_programme(fork(), breakages, 20000, 11);
  EXPECT_EQ(many.finish_s, alone.finish_s);
  EXPECT_EQ(many.critical_share, alone.critical_share);
  EXPECT_EQ(many.mean_s, alone.mean_s);
  EXPECT_NE(many.finish_s, draw_programme(fork(), breakages, 20000, 12).finish_s);
}

TEST(Schedule, BreakagesAddTheirTimeWithTheirShare) {
  // one fixed activity of 10 s that breaks one time in five and then waits 4 s: 10 + 0.2 x 4
  Network network{"2027-03-01", {activity("place", 10, 10, 10, {})}};
  const int n = 100000;
  const Draws draws = draw_programme(network, {{0, 0.2, 4, false, 1}}, n, 5);
  const double sd = std::sqrt(0.2 * 0.8);
  EXPECT_NEAR(draws.broken_mean, 0.2, 4 * sd / std::sqrt(n));
  EXPECT_NEAR(draws.mean_s, 10.8, 4 * 4 * sd / std::sqrt(n));
  const Draws spared = draw_programme(network, {{0, 0.2, 4, true, 1}}, n, 5);
  EXPECT_EQ(spared.broken_mean, draws.broken_mean);  // the same blocks break
  EXPECT_NEAR(spared.mean_s - 10, (draws.mean_s - 10) / 4, 1e-9);
}

TEST(Schedule, WhatIsPlacedBreaksNoMore) {
  Network network{"2027-03-01", {activity("a", 10, 10, 10, {}), activity("b", 10, 10, 10, {0})}};
  network.activities[0].done = true;
  network.activities[0].finish_s = 12;
  const Draws draws =
      draw_programme(network, {{0, 0.9, 4, false, 1}, {1, 0.5, 0, false, 0}}, 4000, 5);
  EXPECT_NEAR(draws.broken_mean, 0.5, 4 * 0.5 / std::sqrt(4000));
  EXPECT_EQ(draws.finish_s.back(), 22);
}

TEST(Schedule, CriticalSharesOfTwoAlikeWaysAreHalf) {
  Network network{"2027-03-01", {activity("a", 2, 5, 8, {}), activity("b", 2, 5, 8, {})}};
  const int n = 40000;
  const Draws draws = draw_programme(network, {}, n, 1);
  EXPECT_NEAR(draws.critical_share[0], 0.5, 4 * 0.5 / std::sqrt(n));
  EXPECT_NEAR(draws.critical_share[0] + draws.critical_share[1], 1, 1e-12);
}

TEST(Schedule, QuantilesRunFromTheFirstToTheLast) {
  Draws draws;
  draws.finish_s = {1, 2, 4};
  EXPECT_EQ(draws.at(0), 1);
  EXPECT_EQ(draws.at(0.5), 2);
  EXPECT_EQ(draws.at(0.75), 3);
  EXPECT_EQ(draws.at(1), 4);
}

TEST(Schedule, StopsWhenAsked) {
  std::atomic<bool> stop = true;
  EXPECT_THROW((void)draw_programme(fork(), {}, 1000, 1, Progress({}, &stop)), Interrupted);
}

// beta of (1, b): 1 - (1 - x)^b; of (3, 3): x^3 (10 - 15 x + 6 x^2); of (a, 1): x^a. All exact.
TEST(Random, BetaAgainstItsClosedForms) {
  for (const double x : {1e-6, 0.01, 0.2, 0.5, 0.77, 0.999}) {
    EXPECT_NEAR(beta_chance(x, 1, 5), -std::expm1(5 * std::log1p(-x)), 1e-14) << x;
    EXPECT_NEAR(beta_chance(x, 3, 3), x * x * x * (10 - 15 * x + 6 * x * x), 1e-14) << x;
    EXPECT_NEAR(beta_chance(x, 2.5, 1), std::pow(x, 2.5), 1e-14) << x;
  }
  const BetaTable table(1, 5);
  for (const double chance : {0.0005, 0.1, 0.5, 0.9, 0.99})
    EXPECT_NEAR(table.at(chance), 1 - std::pow(1 - chance, 0.2), 2e-6) << chance;
}

// Mean a/(a + b) and variance ab/((a + b)^2 (a + b + 1)) of the beta distribution, by the integral
// of its inverse over the table's own steps.
TEST(Random, TheTableKeepsMeanAndVariance) {
  for (const auto& [a, b] : {std::pair{1.0, 5.0}, {5.0, 1.0}, {3.0, 3.0}, {1.6667, 4.3333}}) {
    const BetaTable table(a, b);
    double sum = 0, squares = 0;
    const int n = 1 << 18;
    for (int i = 0; i < n; ++i) {
      const double x = table.at((i + 0.5) / n);
      sum += x, squares += x * x;
    }
    const double mean = sum / n;
    EXPECT_NEAR(mean, a / (a + b), 1e-6) << a;
    EXPECT_NEAR(squares / n - mean * mean, a * b / ((a + b) * (a + b) * (a + b + 1)), 1e-6) << a;
  }
}

TEST(Normal, PointIsTheInverseOfChance) {
  for (double p = 1e-12; p < 0.5; p *= 1.7) {
    EXPECT_NEAR(normal_chance(normal_point(p)) / p, 1, 1e-12) << p;
    EXPECT_NEAR(normal_point(1 - p), -normal_point(1 - (1 - p)), 1e-9) << p;
  }
  EXPECT_NEAR(normal_point(0.5), 0, 1e-15);
  EXPECT_TRUE(std::isinf(normal_point(0)) && normal_point(0) < 0);
  EXPECT_TRUE(std::isinf(normal_point(1)) && normal_point(1) > 0);
}

TEST(Dates, CountTheCalendar) {
  EXPECT_EQ(date_after("2027-03-01", 0), "2027-03-01");
  EXPECT_EQ(date_after("2027-03-01", 86400 * 31.0), "2027-04-01");
  EXPECT_EQ(date_after("2028-02-28", 86400 * 1.5), "2028-02-29");
  EXPECT_EQ(date_after("2027-02-30", 0), "");
}

}  // namespace
}  // namespace skewback
