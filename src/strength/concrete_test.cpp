#include "strength/concrete.hpp"

#include <gtest/gtest.h>

namespace skewback {
namespace {

// Source: EN 1992-1-1:2004 table 3.1 and 12.3.1 worked for C30/37 and C70 (0.8, gamma_C 1.5). The
// higher class tells the natural logarithm from the decimal one.
TEST(Concrete, TensionAndDesignStrengths) {
  EXPECT_NEAR(mean_tension_pa(30e6), 2.8965e6, 50);
  EXPECT_NEAR(low_tension_pa(30e6), 2.0275e6, 50);
  EXPECT_NEAR(mean_tension_pa(70e6), 4.6105e6, 50);
  const ConcreteDesign c30 = design_strength(30e6, 1.5, 0.8, 0);
  EXPECT_NEAR(c30.compression_pa, 16e6, 1);
  EXPECT_NEAR(c30.tension_pa, 1.08135e6, 10);
  EXPECT_NEAR(c30.layer_pa, 1.08135e6 / 2, 10);
}

TEST(Concrete, LayersAsTested) {
  const ConcreteDesign tested = design_strength(30e6, 1.5, 0.8, 1.5e6);
  EXPECT_NEAR(tested.layer_pa, 0.8e6, 1e-3);
  // no layer joint is stronger than the concrete
  const ConcreteDesign boast = design_strength(30e6, 1.5, 0.8, 9e6);
  EXPECT_DOUBLE_EQ(boast.layer_pa, boast.tension_pa);
}

// Source: EN 1992-1-1:2004 (3.23) worked for C30: 4.1999 MPa at 150 mm, 4.5185 MPa at 40 mm. The
// greater of the two governs, so a deep member keeps f_ctm.
TEST(Concrete, FlexuralStrength) {
  EXPECT_NEAR(mean_tension_pa(30e6) * flexural_gain(0.150), 4.1999e6, 50);
  EXPECT_NEAR(mean_tension_pa(30e6) * flexural_gain(0.040), 4.5185e6, 60);
  EXPECT_DOUBLE_EQ(flexural_gain(0.9), 1);
}

// Source: EN 1992-1-1:2004 3.1.2, beta_cc = exp(s (1 - sqrt(28/t))), formula from memory, worked by
// hand for classes R, N and S.
TEST(Concrete, Age) {
  const double days[] = {1, 3, 7, 28};
  const double rapid[] = {.4239, .6630, .8187, 1}, normal[] = {.3420, .5982, .7788, 1},
               slow[] = {.1958, .4580, .6839, 1};
  for (int i = 0; i < 4; ++i) {
    EXPECT_NEAR(age_factor(kRapidCement, days[i]), rapid[i], 5e-5) << days[i];
    EXPECT_NEAR(age_factor(kNormalCement, days[i]), normal[i], 5e-5) << days[i];
    EXPECT_NEAR(age_factor(kSlowCement, days[i]), slow[i], 5e-5) << days[i];
  }
}

// Source: EN 1992-1-1:2004 (12.2), (12.10), (12.11), worked for C30, 1000 x 200 mm, e 40 mm: 16 x
// 1000 x 200 x 0.6 = 1920 kN; on l_0 2 m Phi = 1.14 x 0.6 - 0.02 x 10 = 0.484, 1548.8 kN.
TEST(Concrete, WallOffTheMiddle) {
  const double all = design_strength(30e6, 1.5, 0.8, 0).compression_pa * 1.0 * 0.2;
  EXPECT_NEAR(all * stocky_factor(0.04, 0.2), 1920e3, 1);
  EXPECT_NEAR(slender_factor(0.04, 0.2, 2), 0.484, 1e-12);
  EXPECT_NEAR(all * slender_factor(0.04, 0.2, 2), 1548.8e3, 1);
  EXPECT_DOUBLE_EQ(slender_factor(0.04, 0.2, 0.1), 0.6) << "a short one is stocky";
}

// Source: EN 1992-1-1:2004 (12.5) to (12.7) worked for C30: sigma_c,lim 7.4044 MPa; f_cvd 2.1008 at
// 3 MPa and 3.2091 at 10 MPa, where the last bracket counts.
TEST(Concrete, ShearStrength) {
  const ConcreteDesign c30 = design_strength(30e6, 1.5, 0.8, 0);
  EXPECT_NEAR(shear_limit_stress_pa(c30.tension_pa, c30.compression_pa), 7.4044e6, 100);
  EXPECT_NEAR(shear_strength_pa(3e6, c30.tension_pa, c30.compression_pa), 2.1008e6, 100);
  EXPECT_NEAR(shear_strength_pa(10e6, c30.tension_pa, c30.compression_pa), 3.2091e6, 100);
  EXPECT_DOUBLE_EQ(shear_strength_pa(0, c30.tension_pa, c30.compression_pa), c30.tension_pa);
  EXPECT_DOUBLE_EQ(shear_strength_pa(-2 * c30.tension_pa, c30.tension_pa, c30.compression_pa), 0);
}

}  // namespace
}  // namespace skewback
