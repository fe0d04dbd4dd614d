#include "loads/actions.hpp"

#include <gtest/gtest.h>

#include <numeric>

namespace skewback {
namespace {

// EN 1991-2:2003, 5.3.2.1 (formula and both limits quoted in public texts): worked by hand.
TEST(Actions, CrowdFallsWithLoadedLength) {
  EXPECT_DOUBLE_EQ(crowd_pa(5), 5000);
  EXPECT_DOUBLE_EQ(crowd_pa(10), 5000);
  EXPECT_DOUBLE_EQ(crowd_pa(18), 4500);
  EXPECT_DOUBLE_EQ(crowd_pa(20), 4400);
  EXPECT_NEAR(crowd_pa(40), 3714.3, 0.05);
  EXPECT_DOUBLE_EQ(crowd_pa(210), 2500);
  EXPECT_DOUBLE_EQ(crowd_pa(300), 2500);
}

// EN 1991-2:2003, 5.4 (from memory), deck 20 m by 3 m: all people 264.0 kN.
TEST(Actions, PushAlongIsATenthOfPeopleOrSixTenthsOfTheVehicle) {
  const double people = crowd_pa(20) * 20 * 3;
  EXPECT_NEAR(people, 264.0e3, 1e-6);
  EXPECT_NEAR(push_along_n(people, 0.1, 0), 26.4e3, 1e-6);
  const ServiceVehicle vehicle;
  EXPECT_NEAR(push_along_n(people, 0.1, vehicle.front_n + vehicle.rear_n), 72.0e3, 1e-6);
}

// EN 1990:2002, equation 6.10: 100 of weight, 15 of people leading, 3 of wind with psi_0 0.3.
TEST(Actions, Combination610) {
  const std::vector<double> factors = factors_6_10({{1.35, 0.4}, {1.5, 0.3}});
  EXPECT_NEAR(1.35 * 100 + factors[0] * 15 + factors[1] * 3, 156.60, 1e-9);
}

// EN 1990:2002, equations 6.10a and 6.10b, the same loads, psi_0 of people 0.4, xi 0.85. By hand:
// 1.35 * 100 + 1.35 * 0.4 * 15 + 1.5 * 0.3 * 3 = 144.45 and
// 0.85 * 1.35 * 100 + 1.35 * 15 + 1.5 * 0.3 * 3 = 136.35.
TEST(Actions, Combinations610aAnd610b) {
  const std::vector<VariableAction> variable = {{1.35, 0.4}, {1.5, 0.3}};
  const auto sum = [](const FactorSet& set) {
    return set.weight * 100 + set.variable.at(0) * 15 + set.variable.at(1) * 3;
  };
  const std::vector<FactorSet> both = heavy_sets({1.35, 1.0, 0.85}, true, variable);
  ASSERT_EQ(both.size(), 2U);
  EXPECT_EQ(both[0].letter, "a");
  EXPECT_NEAR(sum(both[0]), 144.45, 1e-9);
  EXPECT_EQ(both[1].letter, "b");
  EXPECT_NEAR(sum(both[1]), 136.35, 1e-9);
  const std::vector<FactorSet> one = heavy_sets({1.35, 1.0, 0.85}, false, variable);
  ASSERT_EQ(one.size(), 1U);
  EXPECT_NEAR(sum(one[0]), 156.60, 1e-9);
  // light weight has no xi on it: 100 + 1.35 * 15 + 1.5 * 0.3 * 3
  EXPECT_NEAR(sum(light_set({1.35, 1.0, 0.85}, variable)), 121.60, 1e-9);
}

// EN 1991-1-4:2005, 4.5.
TEST(Actions, BasicWindPressure) { EXPECT_DOUBLE_EQ(basic_wind_pa(26), 422.5); }

// EN 1991-1-4:2005, figure 4.2 (from memory): exposure factor at 10 m over open country (category
// II) about 2.35, and over the sea's edge (z0 = 0.01 m) about 2.75 to 2.85.
TEST(Actions, PeakWindPressureAgainstTheExposureChart) {
  EXPECT_NEAR(peak_wind_pa(26, 10, 0.05) / basic_wind_pa(26), 2.35, 0.03);
  EXPECT_NEAR(peak_wind_pa(26, 10, 0.01) / basic_wind_pa(26), 2.80, 0.08);
  EXPECT_EQ(peak_wind_pa(26, 0.5, 0.05), peak_wind_pa(26, 2, 0.05));
}

}  // namespace
}  // namespace skewback
