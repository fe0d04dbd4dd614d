#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <random>

#include "base/constants.hpp"
#include "survey/fit.hpp"
#include "survey/weighted.hpp"

namespace skewback {
namespace {

struct Draw {
  std::mt19937_64 rng;
  double unit() { return std::uniform_real_distribution<double>(0, 1)(rng); }
  double normal() { return std::normal_distribution<double>(0, 1)(rng); }
  Vec3 normals() { return {normal(), normal(), normal()}; }
  Rigid move() {
    return {
        Eigen::Quaterniond(normal(), normal(), normal(), normal()).normalized().toRotationMatrix(),
        100 * normals()};
  }
};

struct Set {
  std::vector<Vec3> designed, measured;
  std::vector<double> accuracy;
  std::vector<std::string> names;
};

/// Points in a box of 10 m, moved, each coordinate off by its own accuracy.
Set draw_set(Draw& draw, int n, const Rigid& X, double sd) {
  Set set;
  for (int i = 0; i < n; ++i) {
    set.designed.push_back(10 * Vec3(draw.unit(), draw.unit(), draw.unit()));
    set.accuracy.push_back(sd * std::exp(draw.unit()));
    set.measured.push_back(X(set.designed.back()) + set.accuracy.back() * draw.normals());
    set.names.push_back("p" + std::to_string(i + 1));
  }
  return set;
}

RigidFit fit(const Set& set, double gate = 3) {
  return fit_rigid(set.designed, set.measured, set.accuracy, gate, set.names);
}

double turn_off(const Mat3& a, const Mat3& b) {
  return Eigen::AngleAxisd(Mat3(a * b.transpose())).angle();
}

// A movement without noise comes back to rounding, whatever the turn. Weights change nothing.
TEST(WeightedFit, FindsAnExactMovement) {
  Draw draw{std::mt19937_64(9)};
  for (int round = 0; round < 200; ++round) {
    const Rigid X = draw.move();
    Set set = draw_set(draw, 3 + round % 8, X, 1e-3);
    for (std::size_t i = 0; i < set.designed.size(); ++i) set.measured[i] = X(set.designed[i]);
    const RigidFit found = fit(set);
    ASSERT_TRUE(found.determined);
    EXPECT_LT(turn_off(found.X.R, X.R), 1e-9) << round;
    EXPECT_LT((found.X(set.designed[0]) - X(set.designed[0])).norm(), 1e-9) << round;
    EXPECT_LT(found.worst_m, 1e-9);
    EXPECT_TRUE(found.outliers.empty());
    const bool three = round % 8 == 0;  // these may lie upside down
    EXPECT_TRUE(three || found.suspicion.empty()) << found.suspicion;
  }
}

// The weighted sum of squares is a chi-square with 3 n - 6 degrees of freedom: mean 3 n - 6,
// variance twice that. 4,000 sets; the mean within 5 of its standard errors, and a share under the
// median of chi-square (Wilson and Hilferty) near one half. The middle of the points is off by the
// accuracy over the root of their number in each coordinate.
TEST(WeightedFit, LeavesNoiseOfTheRightSize) {
  Draw draw{std::mt19937_64(11)};
  constexpr int kSets = 4000, kPoints = 7, kFreedom = 3 * kPoints - 6;
  double sum = 0, middle = 0;
  for (int round = 0; round < kSets; ++round) {
    const Rigid X = draw.move();
    Set set = draw_set(draw, kPoints, X, 2e-3);
    Vec3 centre = Vec3::Zero();
    for (int i = 0; i < kPoints; ++i) {
      set.accuracy[i] = 2e-3;
      set.measured[i] = X(set.designed[i]) + 2e-3 * draw.normals();
      centre += set.designed[i] / kPoints;
    }
    const RigidFit found = fit(set, 100);
    sum += *found.variance_factor;
    middle += (found.X(centre) - X(centre)).squaredNorm() / 3;
  }
  EXPECT_NEAR(sum / kSets, 1, 5 * std::sqrt(2.0 / kFreedom / kSets));
  const double expected = 2e-3 * 2e-3 / kPoints;
  EXPECT_NEAR(middle / kSets, expected, 5 * expected * std::sqrt(2.0 / 3 / kSets));
}

// turn_sd_rad is what turns scatter by: along the weakest axis the mean square of the turn error is
// its square. Points on a thin triangle make that axis known: x.
TEST(WeightedFit, KnowsHowSureTheTurnIs) {
  Draw draw{std::mt19937_64(12)};
  constexpr int kSets = 4000;
  Set set{{{0, 0, 0}, {10, 0, 0}, {5, 1, 0}}, {}, {.002, .002, .002}, {"a", "b", "c"}};
  double squares = 0, stated = 0;
  for (int round = 0; round < kSets; ++round) {
    set.measured = set.designed;
    for (Vec3& p : set.measured) p += 0.002 * draw.normals();
    const RigidFit found = fit(set, 100);
    ASSERT_TRUE(found.determined);
    const Eigen::AngleAxisd turn(found.X.R);
    squares += std::pow(turn.angle() * turn.axis().x(), 2);
    stated = *found.turn_sd_rad;
  }
  // By hand: y spread about its middle 2/3, so 0.002 / sqrt(2/3) from z readings.
  EXPECT_NEAR(stated, 0.002 / std::sqrt(2.0 / 3), 2e-5);
  EXPECT_NEAR(std::sqrt(squares / kSets), stated, 5 * stated * std::sqrt(0.5 / kSets));
}

// Chi-square against the normal distribution: tables (NIST/SEMATECH e-Handbook 1.3.6.7.4, from
// memory): upper 0.05 points 3.841, 5.991, 7.815, of the normal, two-sided, 1.960.
TEST(AsDeviations, AgreesWithTables) {
  EXPECT_NEAR(as_deviations(3.841, 1), 1.960, 1e-3);
  EXPECT_NEAR(as_deviations(5.991, 2), 1.960, 1e-3);
  EXPECT_NEAR(as_deviations(7.815, 3), 1.960, 1e-3);
  EXPECT_NEAR(as_deviations(18.307, 10), 1.645, 5e-3);  // upper 0.05 point, one-sided
}

// No false alarms beyond the gate's own: the chance that any of n points is named is at most n
// times 2 Q(gate) (Bonferroni), 0.0027 for a gate of 3; tests of points that hang together make it
// less. 1,000 sets of 9; the bound and 4 standard errors.
TEST(Outliers, FewFalseAlarms) {
  Draw draw{std::mt19937_64(13)};
  constexpr int kSets = 1000, kPoints = 9;
  int alarms = 0, suspicions = 0;
  for (int round = 0; round < kSets; ++round) {
    const RigidFit found = fit(draw_set(draw, kPoints, draw.move(), 2e-3));
    alarms += !found.outliers.empty();
    suspicions += !found.suspicion.empty() && found.outliers.empty();
  }
  const double bound = kPoints * std::erfc(3 / std::sqrt(2.0));
  EXPECT_LE(alarms, kSets * bound + 4 * std::sqrt(kSets * bound)) << alarms;
  EXPECT_GE(alarms, 1);  // or the gate never opens at all
  EXPECT_LE(suspicions, kSets * bound) << suspicions;
}

// One point off by 20 to 1000 times its accuracy is named, alone, and the rest fit as if it had not
// been there.
TEST(Outliers, OneIsFoundAndNamed) {
  Draw draw{std::mt19937_64(14)};
  int found_alone = 0;
  constexpr int kSets = 300;
  for (int round = 0; round < kSets; ++round) {
    Set set = draw_set(draw, 8, draw.move(), 2e-3);
    const int bad = round % 8;
    set.measured[bad] +=
        set.accuracy[bad] * 20 * std::pow(50, draw.unit()) * draw.normals().normalized();
    const RigidFit found = fit(set);
    ASSERT_FALSE(found.outliers.empty()) << round;
    EXPECT_EQ(found.outliers[0], bad) << round;
    found_alone += found.outliers.size() == 1;
    Set rest = set;
    rest.designed.erase(rest.designed.begin() + bad);
    rest.measured.erase(rest.measured.begin() + bad);
    rest.accuracy.erase(rest.accuracy.begin() + bad);
    rest.names.erase(rest.names.begin() + bad);
    EXPECT_LT(turn_off(found.X.R, fit(rest).X.R), 1e-9);
  }
  EXPECT_GE(found_alone, kSets * 95 / 100);  // the others are the gate's own false alarms
}

TEST(Outliers, TwoAreFound) {
  Draw draw{std::mt19937_64(15)};
  for (int round = 0; round < 100; ++round) {
    Set set = draw_set(draw, 12, draw.move(), 1e-3);
    set.measured[2] += Vec3(0.3, 0, 0.1);
    set.measured[7] += Vec3(0, 0.05, 0);
    const RigidFit found = fit(set);
    ASSERT_GE(found.outliers.size(), 2U) << round;
    EXPECT_EQ(found.outliers[0], 2);
    EXPECT_EQ(found.outliers[1], 7);
  }
}

// Four points of a square, one too high: each of the four would explain it.
TEST(Outliers, SaysWhenItCannotTellWhich) {
  const RigidFit found = fit({{{0, 0, 0}, {4, 0, 0}, {4, 4, 0}, {0, 4, 0}},
                              {{0, 0, 0}, {4, 0, 0.05}, {4, 4, 0}, {0, 4, 0}},
                              {.002, .002, .002, .002},
                              {"a", "b", "c", "d"}});
  EXPECT_TRUE(found.outliers.empty());
  for (const char* name : {"a", "b", "c", "d"})
    EXPECT_NE(found.suspicion.find(name), std::string::npos) << found.suspicion;
  EXPECT_NE(found.suspicion.find("cannot be told"), std::string::npos) << found.suspicion;
}

// Three marks of a footing that do not fit each other: no one can be told, all are named.
TEST(Outliers, ThreePointsNameNone) {
  const RigidFit found = fit({{{0, 0, 0}, {2.6, 0, 0}, {1.3, 1.2, 0}},
                              {{0, 0, 0}, {2.65, 0, 0}, {1.3, 1.2, 0}},
                              {.002, .002, .002},
                              {"yard left", "yard right", "yard back"}});
  EXPECT_TRUE(found.determined);
  EXPECT_TRUE(found.outliers.empty());
  EXPECT_NE(found.suspicion.find("yard left"), std::string::npos) << found.suspicion;
}

TEST(Undetermined, IsSaidInWords) {
  const std::vector<double> two = {.002, .002}, three = {.002, .002, .002};
  const RigidFit none = fit_rigid({}, {}, {}, 3, {});
  EXPECT_EQ(none.reason, "no points");
  const RigidFit one = fit_rigid({{1, 2, 3}}, {{2, 2, 3}}, {.002}, 3, {"yard left"});
  EXPECT_FALSE(one.determined);
  EXPECT_NE(one.reason.find("yard left"), std::string::npos);
  EXPECT_NEAR((one.X(Vec3(1, 2, 3)) - Vec3(2, 2, 3)).norm(), 0, 1e-12);
  const RigidFit pair = fit_rigid({{0, 0, 0}, {2, 0, 0}}, {{5, 0, 0}, {5, 2, 0}}, two, 3,
                                  {"yard left", "yard right"});
  EXPECT_FALSE(pair.determined);
  EXPECT_EQ(pair.reason,
            "two points leave the turn about the line from yard left to yard right undetermined");
  EXPECT_NEAR(pair.rms_m, 0, 1e-12);  // the least turn brings line onto line
  // 3 mm off the line with 2 mm accuracy: no better than on it
  const RigidFit thin = fit_rigid({{0, 0, 0}, {2, 0, 0}, {1, 0.003, 0}},
                                  {{0, 0, 0}, {2, 0, 0}, {1, 0.003, 0}}, three, 3, {"a", "b", "c"});
  EXPECT_FALSE(thin.determined);
  EXPECT_NE(thin.reason.find("from a to b"), std::string::npos) << thin.reason;
}

}  // namespace
}  // namespace skewback
