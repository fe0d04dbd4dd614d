// Fresh mix under its own weight, and beads.
//
// Sources: N. Roussel, Rheological requirements for printable concretes, Cement and Concrete
// Research 112 (2018): H = sqrt3 tau / (rho g), rise rate sqrt3 A / (rho g) (from memory).
// A. G. Greenhill, Determination of the greatest height consistent with stability, Proc. Cambridge
// Phil. Soc. 4 (1881): 7.837 E I / w (from memory; here also worked out again from Bessel
// functions). S. P. Timoshenko and J. M. Gere, Theory of Elastic Stability (1961), chapter 9:
// plates by energy and by Levy's series; 3.62 E (t/b)2 for a long one hinged on its long edges
// (from memory). Beads: a rectangle between two half rounds. Density 2,200 kg/m3 and g 9.81
// throughout; figures worked by hand from the formulas.

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

// ---- walls as plates ----------------------------------------------------------------------------

constexpr double kPoisson = 0.3;
constexpr double kPlate = 1 / (12 * (1 - kPoisson * kPoisson));  // D of E 1 Pa, 1 m thick

// Evenly pressed by 1 Pa between clamped ends: the upper end is clamped by what is so stiff that it
// does not bend.
double reserve_of_clamped(double height_m, double width_m, WallEdges edges) {
  std::vector<WallPiece> pieces(40, {height_m / 40, 1, 1, 1});
  for (int k = 0; k < 4; ++k) pieces.push_back({height_m / 40, 1e7, 0, 0});
  return wall_reserve(pieces, width_m, edges);
}

// Levy's solution w = f(z) sin(pi y / b): f'''' + (N/D - 2 q) f'' + q2 f = 0, q = (pi / b)2, has
// waves of numbers r and s with r s = q, r2 + s2 = N/D - 2 q. Between clamped ends, even about the
// middle: r tan(r a/2) = s tan(s a/2); odd: r / tan(r a/2) = s / tan(s a/2). The least N.
double levy(double a, double b) {
  const double q = kPi * kPi / (b * b);
  const auto lacking = [&](double k, bool even) {
    const double n = k * kPi * kPi / (b * b) - 2 * q;
    const double root = std::sqrt(std::max(0.0, n * n / 4 - q * q));
    const double r = std::sqrt(n / 2 + root), s = std::sqrt(n / 2 - root);
    const double cr = std::cos(r * a / 2), sr = std::sin(r * a / 2);
    const double cs = std::cos(s * a / 2), ss = std::sin(s * a / 2);
    return even ? r * sr * cs - s * ss * cr : r * cr * ss - s * cs * sr;
  };
  for (double k = 4.0001; k < 40; k += 1e-4) {
    for (const bool even : {true, false}) {
      if ((lacking(k, even) > 0) != (lacking(k + 1e-4, even) > 0)) return k;
    }
  }
  return 0;
}

TEST(PublishedFresh, PlateBetweenClampedEnds) {
  for (const double ratio : {0.5, 0.8, 1.0, 1.5, 2.0, 3.0}) {
    const double k = reserve_of_clamped(ratio, 1, WallEdges::kBothHeld) / (kPi * kPi * kPlate);
    EXPECT_NEAR(k, levy(ratio, 1), 2e-3 * k) << ratio;
  }
  // the square of the books: 6.74, from memory
  EXPECT_NEAR(levy(1, 1), 6.74, 0.01);
}

// w = f(z) y / b: D (b/3 f'''' - 2 (1 - nu) / b f'') + N b/3 f'' = 0. What does not bend above it
// may lean as one, so the upper end is held straight but not in place: f = 1 - cos(pi z / a),
// N = D (pi2 / a2 + 6 (1 - nu) / b2); of a high wall 0.426 pi2 D / b2.
TEST(PublishedFresh, PlateWithAFreeEdge) {
  for (const double a : {0.7, 2.0, 6.0}) {
    const double expected = kPlate * (kPi * kPi / (a * a) + 6 * (1 - kPoisson) / (0.5 * 0.5));
    EXPECT_NEAR(reserve_of_clamped(a, 0.5, WallEdges::kOneFree), expected, 1e-3 * expected) << a;
  }
}

std::vector<WallPiece> under_its_own_weight(double height_m, int count) {
  std::vector<WallPiece> pieces;
  for (int k = 0; k < count; ++k) {
    const double foot = height_m * (count - k) / count, top = height_m * (count - k - 1) / count;
    pieces.push_back({height_m / count, 1, foot, top});  // 1 N/m3
  }
  return pieces;
}

// Edges far apart hold nothing: Greenhill's column, but bent to a cylinder, E / (1 - nu2).
TEST(PublishedFresh, WideWallIsAColumn) {
  const double expected = 7.837 * kPlate;
  EXPECT_NEAR(wall_reserve(under_its_own_weight(1, 30), 100, WallEdges::kBothHeld), expected,
              1e-3 * expected);
  EXPECT_NEAR(wall_reserve(under_its_own_weight(1, 30), 100, WallEdges::kOneFree), expected,
              1e-3 * expected);
}

// A wall many times as high as wide buckles near its foot, where the pressure hardly changes over
// a half-wave: the foot carries 4 pi2 D / b2, from above; 3.62 E (t/b)2.
TEST(PublishedFresh, HighWallTendsToTheLongPlate) {
  double before = 1e9;
  for (const double height : {5.0, 20.0, 80.0}) {
    const double foot_pa =
        height * wall_reserve(under_its_own_weight(height, static_cast<int>(8 * height)), 1,
                              WallEdges::kBothHeld);
    EXPECT_GT(foot_pa, 3.615);
    EXPECT_LT(foot_pa, before);
    before = foot_pa;
  }
  EXPECT_LT(before, 1.15 * 3.62);
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
