#include "survey/tolerances.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "base/parallel.hpp"
#include "survey/sample_give.hpp"
#include "survey/sample_row.hpp"
#include "survey/tolerance_parts.hpp"

namespace skewback {
namespace {

// In a straight row the errors along it add up. What is left between the two sides of the key is
// G = normal, of variance the sum of all variances; the key lies in the middle and leaves G / 2 at
// either joint. It goes in by itself where G / 2 >= -squeeze: chance Phi(2 squeeze / sigma).

double phi(double x) { return 0.5 * std::erfc(-x / std::sqrt(2.0)); }

constexpr int kBlocks = 9;
constexpr double kPad = 0.008, kLength = 0.001, kPlan = 0.001, kPadShare = 0.1;

sample::StraightRow row_with_errors() {
  sample::StraightRow row = sample::straight_row(kBlocks, kPad);
  row.brief.tolerances.block_length_m = kLength;
  row.brief.tolerances.footing_plan_m = kPlan;
  row.brief.tolerances.pad_share = kPadShare;
  row.brief.tolerances.draws = 4000;
  row.brief.packing = sample::half_mm();
  row.brief.packing.step_m = 1;  // the row may be out of line: lengths are looked at here
  return row;
}

/// Standard deviation of G with figures scaled; a figure is two standard deviations.
double sigma(double length = 1, double plan = 1, double pad = 1) {
  return std::sqrt(kBlocks * std::pow(length * kLength / 2, 2) + 2 * std::pow(plan * kPlan / 2, 2) +
                   (kBlocks + 1) * std::pow(pad * kPadShare * kPad / 2, 2));
}

void expect_chance(const Chance& found, double expected, int draws, const std::string& of) {
  EXPECT_NEAR(found.share, expected, 4 * std::sqrt(expected * (1 - expected) / draws)) << of;
  EXPECT_NEAR(found.error, std::sqrt(expected * (1 - expected) / draws), 0.1 * found.error) << of;
}

const ToleranceReport& report() {
  static const ToleranceReport found = [] {
    const sample::StraightRow row = row_with_errors();
    return judge_tolerances(row.brief, row.assembly, {});
  }();
  return found;
}

double root_mean_square(const std::vector<double>& values) {
  double squares = 0;
  for (const double v : values) squares += v * v;
  return std::sqrt(squares / static_cast<double>(values.size()));
}

TEST(Tolerances, KeyGapHasTheRootOfTheSumOfSquares) {
  const double expected = sigma() / 2;  // at either side of the key
  ASSERT_EQ(report().key_gap_m.size(), 4000u);
  EXPECT_NEAR(root_mean_square(report().key_gap_m), expected, 4 * expected / std::sqrt(2 * 4000.0));
}

TEST(Tolerances, ChanceThatTheKeyGoesInIsTheNormalOne) {
  const double squeeze = sample::half_mm().squeeze_m;
  expect_chance(report().key_by_itself, phi(2 * squeeze / sigma()), 4000, "now");
  EXPECT_EQ(report().draws, 4000);
  EXPECT_EQ(report().trade_draws, 2000);
  for (const TightenedTrade& trade : report().trades) {
    const auto scaled = [&](double s) {
      return sigma(trade.error == "block_length" ? s : 1, trade.error == "footing_plan" ? s : 1,
                   trade.error == "pad" ? s : 1);
    };
    expect_chance(trade.halved, phi(2 * squeeze / scaled(0.5)), 2000, trade.error + " halved");
    expect_chance(trade.gone, phi(2 * squeeze / scaled(0)), 2000, trade.error + " gone");
  }
}

TEST(Tolerances, TradesComeByWhatTheyBring) {
  ASSERT_EQ(report().trades.size(), error_names().size());
  for (std::size_t i = 1; i < report().trades.size(); ++i)
    EXPECT_GE(report().trades[i - 1].halved.share, report().trades[i].halved.share);
  // variances 0.25 x 9, 0.25 x 2 and 0.16 x 10 mm2
  EXPECT_EQ(report().trades.front().error, "block_length");
  const auto alone = [](const std::string& error) {
    for (const TightenedTrade& t : report().trades) {
      if (t.error == error) return t.alone_m;
    }
    return -1.0;
  };
  const double near = 4 / std::sqrt(2 * 2000.0);
  EXPECT_NEAR(alone("block_length") / (sigma(1, 0, 0) / 2), 1, near);
  EXPECT_NEAR(alone("footing_plan") / (sigma(0, 1, 0) / 2), 1, near);
  EXPECT_NEAR(alone("pad") / (sigma(0, 0, 1) / 2), 1, near);
  EXPECT_NEAR(alone("footing_level"), 0, 1e-12);
}

TEST(Tolerances, BudgetIsTheInverseOfTheNormalChance) {
  // Phi(2 squeeze / (s sigma)) = 0.95 at s = 2 squeeze / (1.6448536 sigma)
  const double expected = 2 * sample::half_mm().squeeze_m / (1.6448536269514722 * sigma());
  // of a quantile: sqrt(p (1 - p) / n) over the density; and the bracket's width
  const double z = 1.6448536269514722, density = std::exp(-z * z / 2) / std::sqrt(2 * M_PI);
  const double error = std::sqrt(0.95 * 0.05 / 2000) / density / z;
  EXPECT_NEAR(report().budget_scale / expected, 1, 4 * error + 0.0015);
  for (const TightenedTrade& trade : report().trades)
    EXPECT_DOUBLE_EQ(trade.budget, trade.now * report().budget_scale);
}

TEST(Tolerances, PackedTheRowGoesInWhereAllJointsTogetherGiveEnough) {
  // Laid anew, every joint may be tight by `squeeze`: G >= -(joints) x squeeze, chance by the same
  // normal. 5 blocks, 6 joints.
  sample::StraightRow row = sample::straight_row(5, kPad);
  row.brief.packing.step_m = 1;
  row.brief.tolerances.block_length_m = 0.005;
  row.brief.tolerances.draws = 1000;
  const double deviation = 0.0025 * std::sqrt(5.0), give = 6 * row.brief.packing.squeeze_m;
  const ToleranceReport found = judge_tolerances(row.brief, row.assembly, {});
  expect_chance(found.goes_in, phi(give / deviation), 1000, "packed");
}

TEST(Tolerances, NoErrorsLeaveNothingToPack) {
  sample::StraightRow row = sample::straight_row(5, kPad);
  row.brief.tolerances.draws = 100;
  const ToleranceReport found = judge_tolerances(row.brief, row.assembly, {});
  EXPECT_EQ(found.key_by_itself.share, 1);
  EXPECT_EQ(found.goes_in.share, 1);
  EXPECT_GT(found.key_by_itself.error, 0);
  for (const double p : found.packers_m) EXPECT_EQ(p, 0);
  for (const double g : found.key_gap_m) EXPECT_NEAR(g, 0, 1e-12);
}

// Blocks stacked on timber that is off by 20 mm at two deviations come out of line by more than
// 3 mm in places; set anew on feet set anew, they lie as drawn.
TEST(Tolerances, TimberCountsForTheKeyByItselfAlone) {
  sample::StraightRow row = sample::straight_row(5, kPad);
  row.brief.tolerances.centring_m = 0.020;
  row.brief.tolerances.draws = 100;
  const ToleranceReport found = judge_tolerances(row.brief, row.assembly, {});
  EXPECT_LT(found.key_by_itself.share, 0.9);
  EXPECT_EQ(found.goes_in.share, 1);
  for (const double p : found.packers_m) EXPECT_EQ(p, 0);
  EXPECT_TRUE(std::ranges::any_of(found.remarks, [](const std::string& remark) {
    return remark.find("It counts for the key by itself alone") != std::string::npos;
  }));
}

TEST(Tolerances, ABudgetThatNoScaleReachesIsNone) {
  sample::StraightRow row = row_with_errors();
  row.brief.tolerances.draws = 300;
  row.brief.packing.squeeze_m = 0;  // half of the draws are too tight at any scale
  EXPECT_EQ(judge_tolerances(row.brief, row.assembly, {}).budget_scale, 0);
}

/// A short row whose brief has other figures in it: what the trades must come to.
ToleranceReport with_figures(double length, double plan, double pad) {
  sample::StraightRow row = sample::straight_row(5, kPad);
  row.brief.packing.step_m = 1;
  row.brief.tolerances.block_length_m = length * 0.004;
  row.brief.tolerances.footing_plan_m = plan * 0.004;
  row.brief.tolerances.pad_share = pad * 0.2;
  row.brief.tolerances.draws = 150;
  return judge_tolerances(row.brief, row.assembly, {});
}

// An error halved or left out is the same as a brief that says so, to the last key and packer.
TEST(Tolerances, ATradeHalvedOrGoneIsABriefThatSaysSo) {
  const ToleranceReport now = with_figures(1, 1, 1);
  const std::pair<const char*, std::array<ToleranceReport, 2>> briefs[] = {
      {"block_length", {with_figures(0.5, 1, 1), with_figures(0, 1, 1)}},
      {"footing_plan", {with_figures(1, 0.5, 1), with_figures(1, 0, 1)}},
      {"pad", {with_figures(1, 1, 0.5), with_figures(1, 1, 0)}}};
  for (const auto& [error, brief] : briefs) {
    const auto trade = std::ranges::find(now.trades, error, &TightenedTrade::error);
    ASSERT_NE(trade, now.trades.end());
    EXPECT_EQ(trade->halved.share, brief[0].on_trade_draws.share) << error;
    EXPECT_EQ(trade->gone.share, brief[1].on_trade_draws.share) << error;
    EXPECT_NEAR(trade->packers_halved_m, brief[0].packers_mean_m, 1e-12) << error;
    EXPECT_NEAR(trade->packers_gone_m, brief[1].packers_mean_m, 1e-12) << error;
    EXPECT_NE(trade->packers_halved_m, now.packers_mean_m) << error;
  }
}

TEST(Tolerances, TheBudgetWithPackersIsJustWhatLeavesTheChance) {
  const ToleranceReport now = with_figures(1, 1, 1);
  const double s = now.budget_scale_packed, over = s * std::exp2(1.0 / 32) * (1 + 1e-9);
  ASSERT_GT(s, 0);
  EXPECT_GE(with_figures(s, s, s).goes_in.share, TolerancesRequest{}.chance);
  EXPECT_LT(with_figures(over, over, over).goes_in.share, TolerancesRequest{}.chance);
  EXPECT_NE(s, now.budget_scale);
}

TEST(Tolerances, TheGapOfTheKeyIsTheOneFurtherOff) {
  sample::StraightRow row = sample::straight_row(5, kPad);
  row.brief.tolerances = TolerancesRequest{};
  row.brief.tolerances.draws = 100;
  const ToleranceReport found = judge_tolerances(row.brief, row.assembly, {});
  const StackModel model(row.assembly);
  int tight = 0, open = 0;
  for (std::uint64_t i = 0; i < 100; ++i) {
    const DrawResult draw = try_draw(row.brief, model, i);
    const bool is_tight = -draw.key_gap_min_m > draw.key_gap_max_m;
    (is_tight ? tight : open) += 1;
    EXPECT_EQ(found.key_gap_m[i], is_tight ? draw.key_gap_min_m : draw.key_gap_max_m) << i;
  }
  EXPECT_GT(tight, 10);
  EXPECT_GT(open, 10);
}

std::vector<double> numbers(const ToleranceReport& r) {
  std::vector<double> out = {r.key_by_itself.share, r.goes_in.share, r.budget_scale,
                             r.budget_scale_packed, r.packers_mean_m};
  for (const auto* v : {&r.packers_m, &r.thickest_m, &r.key_gap_m})
    out.insert(out.end(), v->begin(), v->end());
  for (const TightenedTrade& t : r.trades)
    out.insert(out.end(), {t.halved.share, t.gone.share, t.alone_m, t.step_alone_m, t.budget,
                           t.packers_halved_m, t.packers_gone_m});
  return out;
}

TEST(Tolerances, SameToTheLastDigitOnOneThreadAndTwo) {
  sample::StraightRow row = sample::straight_row(3, kPad);
  row.brief.tolerances = TolerancesRequest{};
  row.brief.tolerances.draws = 100;
  const auto with = [&](int jobs) {
    const JobLimit limit(jobs);
    return numbers(judge_tolerances(row.brief, row.assembly, {}));
  };
  EXPECT_EQ(with(1), with(2));
  const StackModel model(row.assembly);
  const double before = try_draw(row.brief, model, 0).key_gap_min_m;
  row.brief.tolerances.seed = 2;
  EXPECT_NE(before, try_draw(row.brief, model, 0).key_gap_min_m);
}

TEST(Tolerances, StopsWhenAsked) {
  const sample::StraightRow row = row_with_errors();
  std::atomic<bool> stop = false;
  const Progress progress([&](const std::string&, double) { stop = true; }, &stop);
  EXPECT_THROW((void)judge_tolerances(row.brief, row.assembly, {}, progress), Interrupted);
}

}  // namespace
}  // namespace skewback
