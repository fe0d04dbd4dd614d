// Source: EN 1992-1-1:2004, 3.1.2 and table 3.1 (from memory), worked by hand.

#include "erect/lift_age.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "erect/sample_slab.hpp"

namespace skewback {
namespace {

using sample::check;
using sample::lift_one;

constexpr double kDay = 86400;

// beta_cc as tables of textbooks give it to two places, for 3, 7, 14, 90 and 360 days; from 28 days
// on tension follows its power 2/3.
TEST(LiftAge, TensionGrowsAsTabulated) {
  const double days[] = {3, 7, 14, 90, 360};
  const struct {
    const char* cement;
    double beta[5];
  } rows[] = {{"R", {0.66, 0.82, 0.92, 1.09, 1.16}},
              {"N", {0.60, 0.78, 0.90, 1.12, 1.20}},
              {"S", {0.46, 0.68, 0.85, 1.18, 1.32}}};
  for (const auto& row : rows)
    for (int i = 0; i < 5; ++i) {
      const double power = days[i] < 28 ? 1 : 2.0 / 3;
      const double low = std::pow(row.beta[i] - 0.0051, power),
                   high = std::pow(row.beta[i] + 0.0051, power);
      const double found = tension_at_age(cement_coefficient(row.cement), days[i]);
      EXPECT_GT(found, low) << row.cement << " " << days[i];
      EXPECT_LT(found, high) << row.cement << " " << days[i];
    }
  EXPECT_NEAR(tension_at_age(0.25, 90), 1.07649, 1e-5);
  EXPECT_DOUBLE_EQ(tension_at_age(0.25, 28), 1);
}

// C30 at 7 days, class N: f_cm(7) = 0.77880 x 38 MPa, f_ck(7) = 21.594 MPa.
TEST(LiftAge, CompressionIsTheMeanLessEight) {
  EXPECT_NEAR(30 * compression_at_age(0.25, 7, 30e6), 21.5944, 1e-4);
  EXPECT_EQ(compression_at_age(0.25, 28, 30e6), 1);
  EXPECT_EQ(compression_at_age(0.25, 0.1, 30e6), 0) << "under 8 MPa of mean strength";
}

// exp(0.25 (1 - sqrt(28 / t))) = 0.5 at t = 28 / (1 + 4 ln 2)^2 = 1.96734 days.
TEST(LiftAge, TheAgeAtWhichItIsReached) {
  EXPECT_NEAR(*days_to_tension(0.25, 0.5), 1.96734, 1e-5);
  EXPECT_NEAR(*days_to_tension(0.38, std::exp(-0.38)), 7, 1e-9);
  EXPECT_EQ(*days_to_tension(0.25, 0), 0);
  EXPECT_FALSE(days_to_tension(0.25, 1.01));
  EXPECT_NEAR(*days_to_compression(0.25, 21.5944 / 30, 30e6), 7, 1e-3);
}

TEST(LiftAge, CuringAndTheShortestJourneyUnlessTheBriefSaysMore) {
  Brief brief = sample::handling_brief();
  EXPECT_EQ(age_off_table(brief).days, 28) << "not printed: nothing is known of its age";
  EXPECT_EQ(age_on_site(brief).tension, 1);
  brief.print.wanted = true;
  brief.print.curing_s = 7 * kDay;
  brief.transport.journey_s = kDay * Vec3(2, 3, 5);
  EXPECT_NEAR(age_off_table(brief).tension, 0.77880, 1e-5);
  EXPECT_DOUBLE_EQ(age_on_site(brief).days, 9);
  EXPECT_DOUBLE_EQ(age_on_the_road(brief).days, 7);
  brief.material.cement = "R";
  EXPECT_NEAR(age_off_table(brief).tension, 0.81873, 1e-5);
  brief.lifting.table_age_s = 2 * kDay;
  brief.lifting.site_age_s = 90 * kDay;
  EXPECT_DOUBLE_EQ(age_off_table(brief).days, 2);
  EXPECT_EQ(age_on_site(brief).tension, 1) << "no more than at 28 days";
  brief.lifting.early_strength = 0.4;
  EXPECT_TRUE(age_off_table(brief).as_tested);
  EXPECT_DOUBLE_EQ(age_off_table(brief).compression, 0.4);
}

// C30, 0.8 x 0.7 x 2.8965 MPa x 0.59824 / 1.5 at 3 days.
TEST(LiftAge, TheStrengthUsedIsThatOfTheAge) {
  Brief brief = sample::handling_brief();
  brief.material.fck_pa = 30e6;
  brief.print.wanted = true;
  brief.lifting.table_age_s = 3 * kDay;
  const PrintSet set = sample::layers_along_y();
  const HandlingCheck c =
      check(lift_one(brief, sample::slab("a", {2, 0.4, 0.3}), &set), "tension, table");
  EXPECT_NEAR(c.resistance, 0.64691e6, 20);
  EXPECT_EQ(c.age_days, 3);
  ASSERT_TRUE(c.holds_from_days);
  brief.lifting.table_age_s = *c.holds_from_days * kDay;
  EXPECT_NEAR(
      check(lift_one(brief, sample::slab("a", {2, 0.4, 0.3}), &set), "tension, table").utilisation,
      1, 1e-9);
}

// EN 1992-1-1:2004 3.1.2 (5), class N, 40 MPa: f_ck(3 d) = 48 exp(0.25 (1 - sqrt(28 / 3))) - 8
// = 20.7155.
TEST(LiftAge, TheEdgeIsOfTheAgeAtWhichItIsLiftedThere) {
  Brief brief = sample::handling_brief();
  brief.lifting.table_age_s = 3 * kDay;
  const BlockLift lift = lift_one(brief, sample::slab("a", {2, 0.4, 0.3}));
  const HandlingCheck yard = check(lift, "edge, yard"), site = check(lift, "edge, site");
  EXPECT_NEAR(yard.resistance, 0.8 * 20.7155e6 / 1.5, 100);
  EXPECT_NEAR(site.resistance, 0.8 * 40e6 / 1.5, 1);
  EXPECT_EQ(yard.age_days, 3);
  EXPECT_EQ(site.age_days, 28);
}

TEST(LiftAge, TooEarlyIsSaidWithTheAgeThatDoes) {
  Brief brief = sample::handling_brief();
  brief.print.wanted = true;
  brief.lifting.table_age_s = 0.2 * kDay;
  const PrintSet set = sample::layers_along_y();
  const Assembly assembly = sample::slabs({sample::slab("a", {2, 0.4, 0.06}, 0, {0, 0, 1})});
  const LiftPlan early = plan_lifts(brief, assembly, sample::in_turn(assembly), &set);
  EXPECT_GT(early.utilisation, 1);
  EXPECT_THAT(early.remarks, testing::Contains(testing::HasSubstr("Too early")));
  const std::optional<double> from = may_leave_table_days(early.lifts[0]);
  ASSERT_TRUE(from);
  EXPECT_GT(*from, 0.2);
  brief.lifting.table_age_s = (*from + 0.01) * kDay;
  const LiftPlan later = plan_lifts(brief, assembly, sample::in_turn(assembly), &set);
  EXPECT_THAT(later.remarks, testing::Not(testing::Contains(testing::HasSubstr("Too early"))));
}

}  // namespace
}  // namespace skewback
