#include "assembly/pad_rules.hpp"

#include <gtest/gtest.h>

namespace skewback {
namespace {

// Gent and Lindley 1959 and EN 1337-3, formulas from memory, worked by hand for 200 x 100 x 10 mm,
// G 0.9 MPa: S = 200 x 100 / (2 x 10 x 300) = 3.3333; E_c = 2.7 (1 + 2 S^2) = 62.70 MPa; 6.270 and
// 0.090 N/mm3; 1.4 G S = 4.20 MPa, less than 7 G = 6.30; at 2 MPa it closes 0.319 mm.
TEST(PadRules, OneWorkedPad) {
  const Regions pad{{{{0, 0}, {0.2, 0}, {0.2, 0.1}, {0, 0.1}}, {}}};
  const double t = 0.01, G = 0.9e6, S = pad_shape(pad, t), E = pad_modulus_pa(G, S);
  EXPECT_NEAR(S, 3.3333, 5e-5);
  EXPECT_NEAR(E, 62.70e6, 1);
  EXPECT_NEAR(E / t, 6.270e9, 1e3);
  EXPECT_NEAR(G / t, 0.090e9, 1);
  EXPECT_NEAR(2e6 / (E / t), 0.319e-3, 5e-7);
  EXPECT_NEAR(pad_stress_limit_pa(G, S), 4.20e6, 1);
  EXPECT_NEAR(pad_stress_limit_pa(G, 9), 6.30e6, 1);
  EXPECT_NEAR(pad_shape_of(E, G), S, 1e-12);
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
