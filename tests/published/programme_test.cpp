// Programme and spares against what is published, and against sums and integrals that are exact.
//
// Sources: D. G. Malcolm, J. H. Roseboom, C. E. Clark, W. Fazar, Application of a technique for
// research and development program evaluation, Operations Research 7 (1959): mean (a + 4 m + b)/6,
// variance ((b - a)/6)^2 (from memory); the small network is ours, worked by hand. The normal
// distribution: Abramowitz and Stegun (1964), tables 26.1 and 26.5 (from memory). Generator: known
// answers that J. K. Salmon, M. A. Moraes, R. O. Dror and D. E. Shaw publish with "Parallel random
// numbers: as easy as 1, 2, 3" (2011; from memory). Spares of alike blocks: the binomial sum. One
// order, cost of too few and of too many: the critical ratio of K. J. Arrow, T. Harris, J.
// Marschak, Optimal inventory policy, Econometrica 19 (1951; from memory), figures from the
// binomial by hand. Counting: conjugate beta prior, A. Gelman et al., Bayesian Data Analysis, 2.4
// (from memory).

#include <gtest/gtest.h>

#include <cmath>
#include <numeric>

#include "erect/normal.hpp"
#include "erect/random.hpp"
#include "erect/sample_network.hpp"
#include "erect/spares.hpp"

namespace skewback {
namespace {

using sample::activity;

/// In days.
Network six() {
  return {"2027-03-01",
          {activity("footings", 4, 6, 8, {}), activity("printing", 8, 10, 18, {}),
           activity("curing", 7, 7, 7, {1}), activity("centring", 3, 4, 11, {0}),
           activity("placing", 3, 5, 7, {2, 3}), activity("striking", 1, 2, 3, {4})}};
}

TEST(Programme, SixActivitiesByHand) {
  const PertResult result = pert(six());
  EXPECT_EQ(result.critical, (std::vector<int>{1, 2, 4, 5}));
  EXPECT_NEAR(result.duration_s, 25, 1e-12);
  EXPECT_NEAR(result.sd_s * result.sd_s, 100.0 / 36 + 16.0 / 36 + 4.0 / 36, 1e-12);
  EXPECT_NEAR(result.float_s[0], 7, 1e-12);
  EXPECT_NEAR(result.float_s[3], 7, 1e-12);
  for (const int i : result.critical)
    EXPECT_NEAR(result.float_s[static_cast<std::size_t>(i)], 0, 1e-12);
  EXPECT_NEAR(chance_by(result, 28), 0.9498, 5e-5);
  EXPECT_NEAR(finish_at(result, 0.9), 27.34, 5e-3);
}

TEST(Programme, NormalTables) {
  EXPECT_NEAR(normal_chance(1), 0.841344746068543, 1e-14);
  EXPECT_NEAR(normal_chance(2), 0.977249868051821, 1e-14);
  EXPECT_NEAR(normal_point(0.975), 1.959963984540054, 1e-13);
  EXPECT_NEAR(normal_point(0.9), 1.281551565544600, 1e-13);
  EXPECT_NEAR(normal_point(1e-6), -4.753424308822899, 1e-12);
}

TEST(Programme, GeneratorGivesItsKnownAnswers) {
  using Words = std::array<std::uint32_t, 4>;
  EXPECT_EQ(philox({0, 0, 0, 0}, {0, 0}), (Words{0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8}));
  EXPECT_EQ(philox({0xffffffff, 0xffffffff, 0xffffffff, 0xffffffff}, {0xffffffff, 0xffffffff}),
            (Words{0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd}));
  EXPECT_EQ(philox({0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344}, {0xa4093822, 0x299f31d0}),
            (Words{0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1}));
}

/// Of the longer of two: the integral of 1 - F1 F2, by Simpson over [0, most], F the beta-PERT
/// distribution as the binomial sum that it is where its powers are whole.
double chance_whole(double x, int a, int b) {
  const int n = a + b - 1;
  double sum = 0, choose = 1;
  for (int j = 0; j <= n; ++j) {
    if (j >= a) sum += choose * std::pow(x, j) * std::pow(1 - x, n - j);
    choose *= static_cast<double>(n - j) / (j + 1);
  }
  return sum;
}
struct Three {  // least, range, whole powers of the beta
  double least, range;
  int a, b;
  [[nodiscard]] double by(double t) const {
    const double x = (t - least) / range;
    return x <= 0 ? 0 : x >= 1 ? 1 : chance_whole(x, a, b);
  }
};
double simpson(const Three& one, const Three& two, double most, bool squared) {
  const int n = 200000;
  double sum = 0;
  for (int i = 0; i <= n; ++i) {
    const double t = most * i / n;
    const double f = (1 - one.by(t) * two.by(t)) * (squared ? 2 * t : 1);
    sum += f * (i == 0 || i == n ? 1 : i % 2 == 1 ? 4 : 2);
  }
  return sum * most / n / 3;
}

TEST(Programme, MeanOfTheLongerOfTwoWaysIsTheIntegralsNotPerts) {
  // 2, 5, 8: powers 3 and 3; 3, 4, 7: powers 2 and 4
  const Network network{"2027-03-01", {activity("", 2, 5, 8, {}), activity("", 3, 4, 7, {})}};
  const Three one{2, 6, 3, 3}, two{3, 4, 2, 4};
  const double mean = simpson(one, two, 8, false);
  const double sd = std::sqrt(simpson(one, two, 8, true) - mean * mean);
  const int n = 400000;
  const Draws draws = draw_programme(network, {}, n, 7);
  EXPECT_NEAR(draws.mean_s, mean, 4 * sd / std::sqrt(n));
  EXPECT_NEAR(draws.sd_s, sd, 0.01 * sd);
  EXPECT_GT(mean, pert(network).duration_s + 0.2);  // PERT sees the longer mean alone
  for (const double t : {4.0, 5.0, 6.0}) {
    const auto by = std::upper_bound(draws.finish_s.begin(), draws.finish_s.end(), t);
    const double share = static_cast<double>(by - draws.finish_s.begin()) / n;
    EXPECT_NEAR(share, one.by(t) * two.by(t), 4 * 0.5 / std::sqrt(n)) << t;
  }
}

// Of a sum the means add up, whatever the distribution.
TEST(Programme, MeanOfOneWayIsTheSumOfMeans) {
  Network network{"2027-03-01",
                  {activity("", 8, 10, 18, {}), activity("", 7, 7, 7, {0}),
                   activity("", 3, 5, 7, {1}), activity("", 1, 2, 3, {2})}};
  const int n = 200000;
  const Draws draws = draw_programme(network, {}, n, 2);
  EXPECT_NEAR(draws.mean_s, 25, 4 * draws.sd_s / std::sqrt(n));
  // beta of powers 1.8 and 4.2 over 10 d; 3 and 3 over 4 and 2 d: range^2 a b/(36 x 7)
  const double variance = (100 * 1.8 * 4.2 + 16 * 9.0 + 4 * 9.0) / (36 * 7);
  EXPECT_NEAR(draws.sd_s * draws.sd_s, variance, 0.015 * variance);
}

TEST(Programme, SparesOfAlikeBlocks) {
  const double wanted[] = {0.90, 0.95, 0.99};
  const int at_1[] = {2, 2, 3}, at_3[] = {4, 4, 6}, at_5[] = {6, 6, 8};
  for (int k = 0; k < 3; ++k) {
    EXPECT_EQ(spares_for_alike(61, 0.01, wanted[k]), at_1[k]);
    EXPECT_EQ(spares_for_alike(61, 0.03, wanted[k]), at_3[k]);
    EXPECT_EQ(spares_for_alike(61, 0.05, wanted[k]), at_5[k]);
  }
  EXPECT_EQ(spares_for_alike(10, 0, 0.99), 0);
}

TEST(Programme, OneOrderByCost) {
  EXPECT_EQ(newsvendor(12, 0.05, 2000, 150), 2);
  // expected cost of s, by the binomial written out: least at s = 2
  const auto cost = [](int s) {
    double sum = 0;
    for (int k = 0; k <= 12; ++k) {
      const double p = std::tgamma(13.0) / std::tgamma(k + 1.0) / std::tgamma(13.0 - k) *
                       std::pow(0.05, k) * std::pow(0.95, 12 - k);
      sum += p * (k > s ? 2000 * (k - s) : 150 * (s - k));
    }
    return sum;
  };
  EXPECT_NEAR(cost(0), 1200, 1e-9);
  EXPECT_NEAR(cost(1), 361.77, 5e-3);
  EXPECT_NEAR(cost(2), 257.30, 5e-3);
  EXPECT_NEAR(cost(3), 365.23, 5e-3);
}

// Sixty-one blocks, no two alike, 3 % break: all whole 0.97^61, broken 61 x 0.03; with a second one
// of each, which breaks as easily, (1 - 0.03^2)^61.
TEST(Programme, UniqueBlocksByTheBinomial) {
  EXPECT_NEAR(std::pow(0.97, 61), 0.1560, 5e-5);
  EXPECT_NEAR(std::pow(1 - 0.03 * 0.03, 61), 0.9466, 5e-5);
  Network network{"2027-03-01", {}};
  std::vector<Breakage> breakages;
  for (int k = 0; k < 61; ++k) {
    network.activities.push_back(
        activity("", 1, 1, 1, k > 0 ? std::vector{k - 1} : std::vector<int>{}));
    breakages.push_back({k, 0.03, 100, false, 0});
  }
  const int n = 100000;
  const Draws draws = draw_programme(network, breakages, n, 4);
  const auto whole = std::upper_bound(draws.finish_s.begin(), draws.finish_s.end(), 61.5);
  EXPECT_NEAR(static_cast<double>(whole - draws.finish_s.begin()) / n, 0.1560,
              4 * std::sqrt(0.156 * 0.844 / n));
  EXPECT_NEAR(draws.broken_mean, 1.83, 4 * std::sqrt(61 * 0.03 * 0.97 / n));
  EXPECT_NEAR(draws.mean_s, 61 + 183, 400 * std::sqrt(61 * 0.03 * 0.97 / n));
}

// Beta prior of mean 0.03 worth 20 blocks: a 0.6, b 19.4; 2 of 30 broken: (0.6 + 2)/(20 + 30).
TEST(Programme, CountUpdatesTheShare) {
  EXPECT_NEAR(updated_share(0.03, 20, {30, 2}), 2.6 / 50, 1e-15);
  EXPECT_NEAR(updated_share(0.03, 20, {}), 0.03, 1e-15);
}

}  // namespace
}  // namespace skewback
