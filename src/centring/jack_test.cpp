// Jacks: threads, the screw as a strut, turning. Closed forms, and one worked by hand in steps.

#include "centring/jack.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "base/constants.hpp"
#include "centring/sample_judged.hpp"
#include "centring/strap.hpp"

namespace skewback {
namespace {

const TrapezoidalThread kTr32{0.032, 0.006};

// ISO 2904 / DIN 103-4, from memory: d2 and d3 of Tr 24 x 5, 32 x 6, 40 x 7, 48 x 8, 60 x 9.
TEST(Jack, ThreadsAreThoseOfTheTable) {
  const double table[][4] = {
      {24, 5, 21.5, 18.5}, {32, 6, 29, 25}, {40, 7, 36.5, 32}, {48, 8, 44, 39}, {60, 9, 55.5, 50}};
  for (const auto& [d, p, mean, root] : table) {
    const TrapezoidalThread thread{d / 1000, p / 1000};
    EXPECT_NEAR(1000 * thread.mean_m(), mean, 1e-9) << d;
    EXPECT_NEAR(1000 * thread.root_m(), root, 1e-9) << d;
  }
  EXPECT_EQ(kTr32.name(), "Tr 32 x 6");
}

// Pure compression of a short screw: N/(A f). d3 25 mm: A 490.87 mm2; f 235/1.1 = 213.64 MPa:
// 104.87 kN. At length 1 mm sway adds next to nothing.
TEST(Jack, AShortScrewIsCrushed) { EXPECT_NEAR(screw_used(kTr32, 1e-5, 104.87e3, 0), 1, 2e-4); }

// N_cr = pi^2 E I/(2 e)^2: I = pi 25^4/64 = 19,175 mm4; e 300 mm: 110.4 kN (pi^2 210,000 x 19,175 /
// 360,000). N 15 kN, H 2 kN: M = (2000 + 75) x 0.3 / (1 - 15/110.4) = 720.3 N m; W 1534.0 mm3:
// 720.3/(1534 e-9 x 213.64e6) = 2.198, and 15/104.87 = 0.143.
TEST(Jack, BendingOfSecondOrderByHand) {
  double moment = 0;
  EXPECT_NEAR(screw_used(kTr32, 0.3, 15e3, 2e3, &moment), 2.341, 2e-3);
  EXPECT_NEAR(moment, 720.3, 0.3);
  EXPECT_TRUE(std::isinf(screw_used(kTr32, 0.3, 110.5e3, 0)));
  EXPECT_TRUE(std::isfinite(screw_used(kTr32, 0.3, 110.3e3, 0)));
}

// tan(a + b) in one: (P cos 15 + pi mu d2)/(pi d2 cos 15 - mu P) d2/2 N, the textbook's formula for
// trapezoidal screws, with d2 29, P 6, mu 0.15, N 10 kN: 145 x 19.462 / 87.10 = 32.40 N m.
TEST(Jack, TurningByTheTextbooksFormula) {
  const double p = 6, d2 = 29, mu = 0.15, c = std::cos(15 * kPi / 180);
  const double expected = 10e3 * d2 / 2000 * (p * c + kPi * mu * d2) / (kPi * d2 * c - mu * p);
  EXPECT_NEAR(turning_nm(kTr32, 10e3), expected, 1e-9);
  EXPECT_NEAR(turning_nm(kTr32, 10e3), 32.40, 0.01);
  EXPECT_NEAR(turning_nm({0.032, 1e-12}, 1e3), 1e3 * 0.016 * mu / c, 1e-6) << "no climb: friction";
}

TEST(Jack, LengthFollowsTheTravelAndTheLeastThatCarriesIsTaken) {
  sample::Case on = sample::bare_case({0.2, 2.2});
  on.brief.centring.feet = "jacks";
  on.judge();
  const Jack jack = jack_for(on.brief, on.centring);
  ASSERT_TRUE(jack.found);
  // floor 0.2 m over the ground (0.14 + 0.06), raised by the 20 mm that the sample's feet have up
  EXPECT_NEAR(jack.extension_m, 0.22, 1e-12);
  EXPECT_GE(jack.overlap_m, 0.15);
  EXPECT_GE(jack.overlap_m, 0.25 * jack.length_m - 1e-12);
  EXPECT_NEAR(jack.length_m, jack.extension_m + jack.overlap_m, 1e-12);
  EXPECT_NEAR(jack.bore_m, jack.overlap_m + on.brief.centring.travel_m, 1e-12);
  for (const TrapezoidalThread& thread : trapezoidal_threads()) {
    if (thread.outer_m >= jack.thread.outer_m) break;
    EXPECT_GT(screw_used(thread, jack.extension_m, jack.load_n, jack.sideways_n), 1)
        << thread.name();
  }
  on.brief.centring.friction = 0.9;  // feet pass on more sideways: no thinner screw
  EXPECT_GE(jack_for(on.brief, on.centring).thread.outer_m, jack.thread.outer_m);
  for (FootFinding& foot : on.centring.foot_findings) foot.design_n = 500e3;
  EXPECT_FALSE(jack_for(on.brief, on.centring).found);
}

// A jack that is bought is held to what its maker says, foot by foot.
TEST(Jack, BoughtForALoad) {
  sample::Case on = sample::bare_case({0.2, 2.2});
  on.brief.centring.feet = "jacks";
  on.judge();
  double most_n = 0;
  for (const FootFinding& foot : on.centring.foot_findings)
    most_n = std::max(most_n, foot.design_n);
  ASSERT_GT(most_n, 0);
  on.brief.centring.jack_capacity_n = 2 * most_n;
  on.judge();
  const auto named = [&](const char* name) {
    return std::ranges::find(on.centring.checks, name, &CentringCheck::name);
  };
  ASSERT_NE(named("jack"), on.centring.checks.end());
  EXPECT_NEAR(named("jack")->utilisation, 0.5, 1e-12);
  EXPECT_EQ(named("screw of a jack"), on.centring.checks.end());
  on.brief.centring.jack_capacity_n = most_n / 2;
  on.judge();
  EXPECT_NEAR(named("jack")->utilisation, 2, 1e-12);
}

// Nail 4.0 x 40 through 1.5 mm of steel into C24: f_h 0.082 x 350 x 4^-0.3 = 18.94 MPa, t 38.5 mm:
// 0.4 f t d = 1166.5 N; M_y 0.3 x 600 x 4^2.6 = 6616 N mm: 1.15 sqrt(2 M f d) = 1151 N.
TEST(Strap, NailInThinPlateByHand) {
  EXPECT_NEAR(nail_in_thin_plate_n(18.94e6, 0.0385, 0.004, 600e6), 1151, 2);
  EXPECT_NEAR(nail_in_thin_plate_n(18.94e6, 0.020, 0.004, 600e6), 0.4 * 18.94 * 20 * 4, 1e-6);
}

// Sheet 17.7 mm, half for each face: f_h 0.11 x 685 x 4^-0.3 = 49.71 MPa, 0.4 x 49.71 x 8.85 x 4 =
// 703.9 N; k_mod 0.8, gamma 1.3: 433 N. 2.5 kN on two straps: 2.89, so 3; 6 kN: 6.93, so 7.
// Steel: 2 x 0.9 x 35 x 1.5 x 330/1.25 = 24.95 kN.
TEST(Strap, NailsForAPull) {
  const Brief brief;
  const Strap strap = strap_for(brief, 2500);
  EXPECT_NEAR(strap.nail_n, 433, 1);
  EXPECT_EQ(strap.nails, 3);
  EXPECT_NEAR(strap.steel_n, 24.95e3, 10);
  EXPECT_EQ(strap_for(brief, 6000).nails, 7);
  EXPECT_EQ(strap_for(brief, 0).nails, 0);
  EXPECT_FALSE(strap_for(brief, 26e3).carries());
}

}  // namespace
}  // namespace skewback
