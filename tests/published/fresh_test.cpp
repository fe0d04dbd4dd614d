// Fresh mix under its own weight, and beads.
//
// Sources: N. Roussel, Rheological requirements for printable concretes, Cement and Concrete
// Research 112 (2018): H = sqrt3 tau / (rho g), rise rate sqrt3 A / (rho g) (from memory).
// A. G. Greenhill, Determination of the greatest height consistent with stability, Proc. Cambridge
// Phil. Soc. 4 (1881): 7.837 E I / w (from memory; here also worked out again from Bessel
// functions). S. P. Timoshenko and J. M. Gere, Theory of Elastic Stability (1961), chapter 9:
// 3.62 E (t/b)2 for a long plate hinged on its long edges (from memory). Beads: a rectangle between
// two half rounds. Density 2,200 kg/m3 and g 9.81 throughout; figures worked by hand from the
// formulas.

#include "print/fresh.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "base/constants.hpp"
#include "print/bead.hpp"
#include "print/fresh_buckling.hpp"

namespace skewback {
namespace {

constexpr double kDensity = 2200;

// Four metres of path at 100 mm/s, 10 mm high, 40 mm wide: 40 s a layer.
std::vector<FreshLayer> wall_of(int count) {
  FreshLayer layer;
  layer.height_m = 0.010;
  layer.area_m2 = 4 * 0.040;
  layer.volume_m3 = layer.area_m2 * layer.height_m;
  layer.time_s = 4 / 0.100;
  return std::vector<FreshLayer>(static_cast<std::size_t>(count), layer);
}

double first_zero(double (*f)(double), double low, double high) {
  for (int k = 0; k < 100; ++k) {
    const double middle = (low + high) / 2;
    ((f(low) > 0) == (f(middle) > 0) ? low : high) = middle;
  }
  return low;
}
double bessel_minus_third(double x) {  // J(-1/3) = cos(pi/3) J(1/3) - sin(pi/3) Y(1/3)
  return std::cos(kPi / 3) * std::cyl_bessel_j(1.0 / 3, x) -
         std::sin(kPi / 3) * std::cyl_neumann(1.0 / 3, x);
}
double bessel_zero(double x) { return std::cyl_bessel_j(0.0, x); }

TEST(PublishedFresh, HeightThatStands) {
  EXPECT_NEAR(height_that_stands_m(1000, kDensity), 0.08025, 5e-6);
  EXPECT_NEAR(yield_needed_pa(0.010, kDensity), 124.6, 0.05);
  EXPECT_NEAR(yield_needed_pa(0.5, kDensity), 6230, 0.5);
}

TEST(PublishedFresh, RateOfRise) {
  EXPECT_NEAR(rise_rate_m_s(0.1, kDensity) * 3600, 0.0289, 5e-5);
  EXPECT_NEAR(rise_rate_m_s(1, kDensity) * 3600, 0.289, 5e-4);
  EXPECT_NEAR(rise_rate_m_s(10, kDensity) * 3600, 2.889, 5e-4);
}

// 50 layers of 40 s: 33.3 min, 0.9 m/h, for which a yield stress that just holds a layer must grow
// by 3.115 Pa/s.
TEST(PublishedFresh, AWallNeedsItsGrowth) {
  PrintRequest print;
  print.fresh_density = kDensity;
  print.fresh_yield_pa = yield_needed_pa(0.010, kDensity) * (1 + 1e-12);
  print.fresh_yield_growth_pa_s = 3.12;
  FreshStack stack = judge_fresh(print, wall_of(50), {});
  EXPECT_NEAR(stack.height_m, 0.5, 1e-12);
  EXPECT_NEAR(stack.height_m / (50 * 40) * 3600, 0.9, 1e-12);
  ASSERT_TRUE(stack.growth_needed_pa_s);
  EXPECT_NEAR(*stack.growth_needed_pa_s, 3.115, 5e-4);
  EXPECT_LE(stack.worst_use, 1);
  print.fresh_yield_growth_pa_s = 3.11;
  stack = judge_fresh(print, wall_of(50), {});
  EXPECT_GT(stack.worst_use, 1);
  EXPECT_NEAR(stack.worst_time_s / 60, 33.3, 0.05);
}

TEST(PublishedFresh, FreeWallBuckles) {
  const auto wall = [](double stiffness_pa, double width_m) {
    return 1e3 * column_height_m(stiffness_pa, width_m * width_m * width_m / 12, width_m, kDensity);
  };
  EXPECT_NEAR(wall(50e3, 0.040), 134.3, 0.05);
  EXPECT_NEAR(wall(50e3, 0.200), 392.6, 0.05);
  EXPECT_NEAR(wall(200e3, 0.040), 213.1, 0.05);
}

TEST(PublishedFresh, FreeWallBucklesWhileItIsPrinted) {
  PrintRequest print;
  print.fresh_density = kDensity;
  print.fresh_stiffness_pa = 50e3;
  print.fresh_stiffness_growth_pa_s = 0;
  const FreshStack stack = judge_fresh(print, wall_of(14), {{0.040, 0, 0, "wall"}});
  ASSERT_TRUE(stack.wall_height_limit_m);
  EXPECT_NEAR(*stack.wall_height_limit_m, 0.1343, 5e-5);
}

TEST(PublishedFresh, GreenhillsNumber) {
  const double zero = first_zero(bessel_minus_third, 1, 3);
  const double number = 9.0 / 4 * zero * zero;
  EXPECT_NEAR(number, 7.837, 5e-4);
  EXPECT_NEAR(column_reserve({{1, 1, 1}}), number, 2e-3 * number);  // four steps only
  EXPECT_NEAR(column_reserve(std::vector<ColumnPiece>(20, {0.05, 0.05, 1})), number, 1e-6 * number);
  EXPECT_NEAR(std::pow(column_height_m(1, 1, 1, 1 / kGravity), 3), number, 1e-5 * number);
}

// E I in proportion to the depth under the top: t'' + t'/s + (w / b) t = 0, so t = J0(s sqrt(w/b)).
TEST(PublishedFresh, StiffnessThatGrowsDownwards) {
  const int count = 400;
  const double b = 3, w = 5, height = 2;  // N m, N/m, m
  std::vector<ColumnPiece> pieces;
  for (int k = count - 1; k >= 0; --k) {
    pieces.push_back({height / count, w * height / count, b * (k + 0.5) * height / count});
  }
  const double zero = first_zero(bessel_zero, 1, 4);  // 2.4048
  const double expected = b / w * (zero / height) * (zero / height);
  EXPECT_NEAR(column_reserve(pieces), expected, 1e-4 * expected);
}

TEST(PublishedFresh, PlateHingedOnItsLongEdges) {
  EXPECT_NEAR(wall_pressure_pa(1, 0.1, 1, false) / 0.01, 3.62, 0.005);
}

TEST(PublishedBead, RoundedSides) {
  EXPECT_NEAR(bead_section_m2(0.060, 0.010) * 1e6, 578.5, 0.05);
  PrintRequest print;
  print.flow_m3_s = 20e-3 / 60;
  print.accelerator = 0;
  EXPECT_NEAR(bead_speed_m_s(print, bead_share_m(0.060, 0.010), 0.010) * 1e3, 576.2, 0.1);
  // 10 x 40 mm at 100 mm/s: 2.271 L/min; as a share of 40 mm, a rectangle, 2.400
  EXPECT_NEAR(bead_section_m2(0.040, 0.010) * 0.100 * 6e4, 2.271, 5e-4);
  EXPECT_NEAR(bead_section_m2(bead_width_m(0.040, 0.010), 0.010) * 0.100 * 6e4, 2.400, 5e-4);
}

}  // namespace
}  // namespace skewback
