#include "assembly/pad_rules.hpp"

#include <gtest/gtest.h>

namespace skewback {
namespace {

// Gent and Lindley 1959 and EN 1337-3, formulas from memory, worked by hand for 200 x 100 x 10 mm,
// G 0.9 MPa: S = 200 x 100 / (2 x 10 x 300) = 3.3333; 2.7 (1 + 2 S^2) = 62.70 MPa and E_b 2000 MPa
// in a row: E = 1 / (1 / 62.70 + 1 / 2000) = 60.794 MPa; 6.0794 and 0.090 N/mm3; 1.4 G S = 4.20
// MPa, less than 7 G = 6.30; at 2 MPa it closes 0.3290 mm.
TEST(PadRules, OneWorkedPad) {
  const Regions pad{{{{0, 0}, {0.2, 0}, {0.2, 0.1}, {0, 0.1}}, {}}};
  const double t = 0.01, G = 0.9e6, S = pad_shape(pad, t), E = pad_modulus_pa(G, S);
  EXPECT_NEAR(S, 3.3333, 5e-5);
  EXPECT_NEAR(E, 60.7941e6, 100);
  EXPECT_NEAR(E / t, 6.07941e9, 1e4);
  EXPECT_NEAR(G / t, 0.090e9, 1);
  EXPECT_NEAR(2e6 / (E / t), 0.32898e-3, 1e-8);
  EXPECT_NEAR(pad_stress_limit_pa(G, S), 4.20e6, 1);
  EXPECT_NEAR(pad_stress_limit_pa(G, 9), 6.30e6, 1);
  EXPECT_NEAR(pad_shape_of(E, G), S, 1e-12);
  EXPECT_NEAR(pad_shear_modulus_of(E, S), G, 1e-6);
}

// Thin pads of wide beds: S = 18 gives 2.7 x 649 = 1752.3 MPa, in a row with 2000: 933.99. No shape
// makes it stiffer than the rubber itself.
TEST(PadRules, AWidePadIsAsSoftAsItsRubber) {
  EXPECT_NEAR(pad_modulus_pa(0.9e6, 18), 933.99e6, 0.01e6);
  EXPECT_NEAR(pad_shape_of(933.99e6, 0.9e6), 18, 1e-3);
  EXPECT_LT(pad_modulus_pa(0.9e6, 1e4), 2000e6);
  EXPECT_NEAR(pad_stress_limit_pa(0.9e6, pad_shape_of(2000e6, 0.9e6)), 6.30e6, 1);
}

TEST(PadRules, TheRimOfAHoleIsFree) {
  const Regions ring{{{{0, 0}, {1, 0}, {1, 1}, {0, 1}},
                      {{{0.25, 0.25}, {0.25, 0.75}, {0.75, 0.75}, {0.75, 0.25}}}}};
  EXPECT_NEAR(pad_shape(ring, 0.01), 0.75 / (6 * 0.01), 1e-9);
}

// EN 1337-3 5.3.3.6, from memory, 0.1 + 1.5 x 0.6 / sigma: 1.00, 0.55, 0.40, 0.28 at 1, 2, 3, 5
// MPa, the first two over what tests give.
TEST(PadRules, FrictionFallsWithPressure) {
  EXPECT_DOUBLE_EQ(pad_friction(1e6), 0.5);
  EXPECT_DOUBLE_EQ(pad_friction(2e6), 0.5);
  EXPECT_NEAR(pad_friction(3e6), 0.40, 1e-12);
  EXPECT_NEAR(pad_friction(5e6), 0.28, 1e-12);
}

}  // namespace
}  // namespace skewback
