#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "assembly/sample_tripod.hpp"
#include "brief/sample_barrel.hpp"
#include "survey/deviate.hpp"
#include "survey/sample_row.hpp"
#include "survey/tolerance_parts.hpp"

namespace skewback {
namespace {

TEST(NormalDeviate, AgreesWithItsPublishedAndReferencePoints) {
  // Check values of Wichura 1988 (AS 241, PPND16), from memory; the same by scipy 1.10.1,
  // scipy.stats.norm.ppf, which gave the others.
  EXPECT_NEAR(normal_deviate(0.25), -0.6744897501960817, 1e-15);
  EXPECT_NEAR(normal_deviate(0.001), -3.090232306167813, 2e-15);
  EXPECT_NEAR(normal_deviate(1e-20), -9.262340089798409, 5e-15);
  EXPECT_NEAR(normal_deviate(0x1p-33), -6.3379577545537895, 4e-15);
  EXPECT_NEAR(normal_deviate(0.9), 1.2815515655446004, 1e-15);
  EXPECT_NEAR(normal_deviate(0.975), 1.959963984540054, 2e-15);
  EXPECT_EQ(normal_deviate(0.5), 0);
}

TEST(NormalDeviate, IsTheInverseOfTheErrorFunction) {
  for (int i = 1; i < 2000; ++i) {
    const double p = i / 2000.0;
    EXPECT_NEAR(0.5 * std::erfc(-normal_deviate(p) / std::sqrt(2.0)), p, 4e-16) << p;
  }
}

constexpr int kDraws = 20000;

/// One error alone, `figure` wide; what it moves, of every draw.
template <class Set, class Read>
std::vector<double> sampled(Set set, Read read, bool is_even = false,
                            const std::string& name = "") {
  sample::StraightRow row = sample::straight_row(5, 0.008);
  set(row.brief.tolerances);
  if (is_even) row.brief.tolerances.even = {name};
  std::vector<double> values;
  for (int draw = 0; draw < kDraws; ++draw)
    values.push_back(read(errors_of(row.brief, row.assembly, static_cast<std::uint64_t>(draw))));
  return values;
}

struct Moments {
  double mean = 0, deviation = 0, kurtosis = 0;
};
Moments moments(const std::vector<double>& values) {
  const auto n = static_cast<double>(values.size());
  double sum = 0, squares = 0, fourths = 0;
  for (const double v : values) sum += v;
  for (const double v : values) {
    squares += std::pow(v - sum / n, 2);
    fourths += std::pow(v - sum / n, 4);
  }
  return {sum / n, std::sqrt(squares / n), fourths / n / std::pow(squares / n, 2)};
}

/// Normal with figure = two standard deviations, within 4 standard errors of the mean, of the
/// standard deviation (sigma / sqrt(2 n)) and of the kurtosis (sqrt(24 / n)).
void expect_normal(const std::vector<double>& values, double figure) {
  const Moments m = moments(values);
  const double sigma = figure / 2, n = kDraws;
  EXPECT_NEAR(m.mean, 0, 4 * sigma / std::sqrt(n));
  EXPECT_NEAR(m.deviation, sigma, 4 * sigma / std::sqrt(2 * n));
  EXPECT_NEAR(m.kurtosis, 3, 4 * std::sqrt(24 / n));
}

/// Greatest chi-square over 20 cells of like chance that is passed in all but 1 draw of 1,000:
/// 43.82 with 19 degrees of freedom (scipy 1.10.1, chi2.ppf(0.999, 19)).
template <class Chance>
void expect_spread(const std::vector<double>& values, Chance chance) {
  std::array<int, 20> cells{};
  for (const double v : values)
    ++cells[static_cast<std::size_t>(std::clamp(chance(v) * 20, 0.0, 19.999))];
  double sum = 0;
  for (const int c : cells) sum += std::pow(c - kDraws / 20.0, 2) / (kDraws / 20.0);
  EXPECT_LT(sum, 43.82);
}
double normal_chance_of(double v, double figure) {
  return 0.5 * std::erfc(-v / (figure / 2) / std::sqrt(2.0));
}

TEST(DrawErrors, FootingsMoveNormallyByTheirFigures) {
  constexpr double kFigure = 0.01;
  for (const int axis : {0, 1}) {
    const auto values = sampled([&](TolerancesRequest& t) { t.footing_plan_m = kFigure; },
                                [&](const AsMade& made) { return made.supports[1].t[axis]; });
    expect_normal(values, kFigure);
    expect_spread(values, [&](double v) { return normal_chance_of(v, kFigure); });
  }
  const auto level = sampled([&](TolerancesRequest& t) { t.footing_level_m = kFigure; },
                             [](const AsMade& made) { return made.supports[0].t.z(); });
  expect_normal(level, kFigure);
  expect_spread(level, [&](double v) { return normal_chance_of(v, kFigure); });
}

TEST(DrawErrors, FootingsTurnAboutTheMiddleOfTheirSpringing) {
  sample::StraightRow row = sample::straight_row(5);
  row.brief.tolerances.footing_turn_rad = 0.004;
  row.brief.tolerances.footing_tilt_rad = 0.002;
  std::vector<double> turn, tilt_x, tilt_y;
  const Vec3 middle(5 * row.length, 0, 0);
  for (std::uint64_t draw = 0; draw < kDraws; ++draw) {
    const Rigid X = errors_of(row.brief, row.assembly, draw).supports[1];
    EXPECT_NEAR((X(middle) - middle).norm(), 0, 1e-15);
    EXPECT_NEAR((X.R * X.R.transpose() - Mat3::Identity()).norm(), 0, 1e-14);
    const Eigen::AngleAxisd axis(X.R);
    tilt_x.push_back(axis.angle() * axis.axis().x());
    tilt_y.push_back(axis.angle() * axis.axis().y());
    turn.push_back(axis.angle() * axis.axis().z());
  }
  expect_normal(turn, 0.004);
  expect_normal(tilt_x, 0.002);
  expect_normal(tilt_y, 0.002);
}

TEST(DrawErrors, PadsEvenlyWithinTheirShare) {
  constexpr double kHalf = 0.05 * 0.008;  // share x thickness
  const auto values = sampled([](TolerancesRequest& t) { t.pad_share = 0.05; },
                              [](const AsMade& made) { return made.pad_m[2]; }, true, "pad");
  const Moments m = moments(values);
  const double sigma = kHalf / std::sqrt(3.0), n = kDraws;
  EXPECT_NEAR(m.mean, 0, 4 * sigma / std::sqrt(n));
  // of the variance of an even distribution: sqrt((kurtosis - 1) / n), kurtosis 1.8
  EXPECT_NEAR(m.deviation * m.deviation, sigma * sigma, 4 * sigma * sigma * std::sqrt(0.8 / n));
  EXPECT_LE(*std::ranges::max_element(values), kHalf);
  EXPECT_GE(*std::ranges::min_element(values), -kHalf);
  expect_spread(values, [&](double v) { return (v / kHalf + 1) / 2; });
}

/// Length between the beds of block b of a straight row, beyond drawn.
double length_error(const AsMade& made, std::size_t near, std::size_t far) {
  return made.on_a[far].height_m - made.on_b[near].height_m;
}

TEST(DrawErrors, AnyBlockIsAsMuchTooLongWhicheverBedItIsMeasuredFrom) {
  const auto set = [](TolerancesRequest& t) { t.block_length_m = 0.001; };
  // b1 lies on west and reaches b2; b3 is the key; b5 lies on east and reaches b4
  for (const std::size_t block : {0u, 1u, 2u, 3u, 4u}) {
    const auto values =
        sampled(set, [&](const AsMade& m) { return length_error(m, block, block + 1); });
    expect_normal(values, 0.001);
    expect_spread(values, [](double v) { return normal_chance_of(v, 0.001); });
  }
}

TEST(DrawErrors, OnlyFarBedsTiltAndKeysOnBothSides) {
  const auto set = [](TolerancesRequest& t) { t.bed_tilt_rad = 0.001; };
  expect_normal(sampled(set, [](const AsMade& m) { return m.on_a[1].slope.x(); }), 0.001);
  expect_normal(sampled(set, [](const AsMade& m) { return m.on_b[4].slope.y(); }), 0.001);
  const double part = 0.001 / std::sqrt(2.0);
  expect_normal(sampled(set, [](const AsMade& m) { return m.on_b[2].slope.x(); }), part);
  expect_normal(sampled(set, [](const AsMade& m) { return m.on_b[2].slope.y(); }), part);
  expect_normal(sampled(set, [](const AsMade& m) { return m.on_a[3].slope.x(); }), part);
  const auto near = sampled(set, [](const AsMade& m) { return m.on_b[1].slope.norm(); });
  EXPECT_EQ(*std::ranges::max_element(near), 0);
}

TEST(DrawErrors, CornersAreOffOnBlocksAndNotOnFootings) {
  const auto set = [](TolerancesRequest& t) { t.bed_flatness_m = 0.0005; };
  for (std::size_t corner = 0; corner < 4; ++corner)
    expect_normal(sampled(set, [&](const AsMade& m) { return m.on_b[0].corner_m[corner]; }),
                  0.0005);
  const auto ground = sampled(set, [](const AsMade& m) { return m.on_a[0].corner_m[1]; });
  EXPECT_EQ(*std::ranges::max_element(ground), 0);
}

double correlation(const std::vector<double>& a, const std::vector<double>& b) {
  double sum = 0;
  for (std::size_t i = 0; i < a.size(); ++i) sum += a[i] * b[i];
  return sum / static_cast<double>(a.size()) / moments(a).deviation / moments(b).deviation;
}

TEST(DrawErrors, NumbersOfDifferentPlacesAreIndependent) {
  const auto all = [](TolerancesRequest& t) {
    t.block_length_m = t.footing_plan_m = 0.001;
    t.pad_share = t.bed_tilt_rad = 0.01;
  };
  const std::vector<std::vector<double>> series = {
      sampled(all, [](const AsMade& m) { return m.pad_m[0]; }),
      sampled(all, [](const AsMade& m) { return m.pad_m[1]; }),
      sampled(all, [](const AsMade& m) { return m.on_a[1].height_m; }),
      sampled(all, [](const AsMade& m) { return m.on_a[2].height_m; }),
      sampled(all, [](const AsMade& m) { return m.on_a[1].slope.x(); }),
      sampled(all, [](const AsMade& m) { return m.on_a[1].slope.y(); }),
      sampled(all, [](const AsMade& m) { return m.supports[0].t.x(); }),
      sampled(all, [](const AsMade& m) { return m.supports[1].t.x(); })};
  for (std::size_t i = 0; i < series.size(); ++i) {
    for (std::size_t k = i + 1; k < series.size(); ++k)
      EXPECT_NEAR(correlation(series[i], series[k]), 0, 4.5 / std::sqrt(1.0 * kDraws))
          << i << ", " << k;
  }
}

TEST(DrawErrors, NumbersOfDifferentErrorsAreIndependent) {
  sample::StraightRow row = sample::straight_row(5, 0.008);
  row.brief.tolerances = TolerancesRequest{};
  std::vector<std::vector<double>> series(9);
  for (std::uint64_t draw = 0; draw < kDraws; ++draw) {
    const AsMade m = errors_of(row.brief, row.assembly, draw);
    const Eigen::AngleAxisd turned(m.supports[0].R);  // about (0, 0, 0)
    const Vec3 turn = turned.angle() * turned.axis();
    const double of[] = {m.supports[0].t.x(),
                         m.supports[0].t.z(),
                         turn.x(),
                         turn.z(),
                         m.timber_m[2],
                         m.on_a[1].height_m,
                         m.on_a[1].slope.x(),
                         m.on_b[0].corner_m[0],
                         m.pad_m[0]};
    for (std::size_t k = 0; k < series.size(); ++k) series[k].push_back(of[k]);
  }
  for (std::size_t i = 0; i < series.size(); ++i) {
    for (std::size_t k = i + 1; k < series.size(); ++k)
      EXPECT_NEAR(correlation(series[i], series[k]), 0, 4.5 / std::sqrt(1.0 * kDraws))
          << i << ", " << k;
  }
}

std::vector<double> numbers(const Brief& brief, const AsMade& made) {
  std::vector<double> out = made.pad_m;
  for (std::size_t k = 0; k < made.supports.size(); ++k) {
    const Support& support = brief.plan.supports[k];
    const Vec2 middle = (support.a + support.b) / 2;
    const Vec3 at(middle.x(), middle.y(), support.level_m);
    const Vec3 moved = made.supports[k](at) - at;
    const Eigen::AngleAxisd turned(made.supports[k].R);
    const Vec3 turn = turned.angle() * turned.axis();
    out.insert(out.end(), {moved.x(), moved.y(), moved.z(), turn.x(), turn.y(), turn.z()});
  }
  for (const auto* beds : {&made.on_a, &made.on_b}) {
    for (const BedError& bed : *beds) {
      out.insert(out.end(), {bed.height_m, bed.slope.x(), bed.slope.y()});
      out.insert(out.end(), bed.corner_m.begin(), bed.corner_m.end());
    }
  }
  out.insert(out.end(), made.timber_m.begin(), made.timber_m.end());
  return out;
}

TEST(DrawErrors, ATradeLeftOutLeavesAllOtherNumbersAsTheyWere) {
  sample::StraightRow row = sample::straight_row(9, 0.008);
  row.brief.tolerances = TolerancesRequest{};
  std::vector<double> without_length(error_names().size(), 1.0), only_length = without_length;
  std::ranges::fill(only_length, 0.0);
  without_length[5] = 0;
  only_length[5] = 1;
  ASSERT_EQ(error_names()[5], "block_length");
  const auto all = numbers(row.brief, errors_of(row.brief, row.assembly, 7));
  const auto rest = numbers(row.brief, errors_of(row.brief, row.assembly, 7, without_length));
  const auto length = numbers(row.brief, errors_of(row.brief, row.assembly, 7, only_length));
  for (std::size_t i = 0; i < all.size(); ++i) EXPECT_NEAR(all[i], rest[i] + length[i], 1e-15) << i;
  const auto halved =
      numbers(row.brief, errors_of(row.brief, row.assembly, 7, std::vector<double>(9, 0.5)));
  for (std::size_t i = 0; i < all.size(); ++i) EXPECT_NEAR(halved[i], all[i] / 2, 1e-15) << i;
}

TEST(DrawErrors, BlocksOfACourseOfAnArmLieOnTheSameTimber) {
  Assembly tripod = sample::tripod_assembly({});
  Brief brief = sample::tripod_brief(3.5, 1);
  const AsMade made = errors_of(brief, tripod, 3);
  std::vector<double> seen;
  for (std::size_t i = 0; i < tripod.blocks.size(); ++i) {
    if (!tripod.blocks[i].fixed) {
      seen.push_back(made.timber_m[i]);
    } else {
      EXPECT_EQ(made.timber_m[i], 0);
    }
  }
  std::ranges::sort(seen);
  EXPECT_EQ(std::unique(seen.begin(), seen.end()), seen.end());  // one a course: all differ
  tripod.blocks.push_back(tripod.blocks[4]);                     // beside the second of arm A
  EXPECT_EQ(errors_of(brief, tripod, 3).timber_m.back(), made.timber_m[4]);
}

TEST(DrawErrors, KeysAreKnownFromTheirPlace) {
  const Assembly tripod = sample::tripod_assembly({});
  std::vector<int> order;
  for (const int joint : key_joints(tripod, order)) {
    EXPECT_EQ(tripod.blocks[static_cast<std::size_t>(tripod.joints[joint].b)].id, "key");
    EXPECT_EQ(bed_role(tripod, joint, tripod.joints[joint].a), BedRole::kFar);
    EXPECT_EQ(bed_role(tripod, joint, tripod.joints[joint].b), BedRole::kOwn);
  }
  EXPECT_EQ(key_joints(tripod, order).size(), 3u);
  EXPECT_EQ(bed_role(tripod, 0, 0), BedRole::kGround);
  EXPECT_EQ(bed_role(tripod, 0, 3), BedRole::kNear);
}

}  // namespace
}  // namespace skewback
