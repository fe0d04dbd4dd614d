// What a centring must carry, against closed forms and figures worked by hand.

#include <gtest/gtest.h>

#include <cmath>

#include "base/constants.hpp"
#include "centring/judge_beam.hpp"
#include "centring/judge_timber.hpp"
#include "centring/sample_judged.hpp"

namespace skewback {
namespace {

constexpr double kE = 9e9;

/// A level beam in even pieces; supports at pieces.
Beam level_beam(double length, int pieces, const std::vector<int>& supports, double t = 0.018,
                double h = 0.15) {
  BeamShape shape;
  shape.thickness_m = t;
  shape.stiffness_pa = kE;
  for (int i = 0; i <= pieces; ++i) {
    shape.axis.emplace_back(length * i / pieces, 0);
    shape.depth_m.push_back(h);
  }
  std::vector<BeamSupport> under;
  for (const int i : supports) under.push_back({static_cast<std::size_t>(i), 0});
  return {shape, under};
}

/// Even load on the pieces from `from` to `to`, given to their ends.
std::vector<BeamLoad> even_load(const Beam& beam, double w, std::size_t from, std::size_t to) {
  std::vector<BeamLoad> out;
  for (std::size_t i = from; i < to; ++i) {
    const double half = w * (beam.shape().axis[i + 1].x() - beam.shape().axis[i].x()) / 2;
    out.push_back({i, {0, -half}, 0});
    out.push_back({i + 1, {0, -half}, 0});
  }
  return out;
}

double sagging_at(const BeamState& state, std::size_t point) {
  return state.cuts[point][0].moment_nm;
}

// Source: worked by hand, w L^2/8, 6 M/(t h^2), 5 w L^4/(384 E I). Rib 150 x 18 mm, 2.0 kN/m over
// 1.2 m, E 9 GPa: 0.36 kN m, 5.33 MPa, 1.185 mm.
TEST(PublishedCentring, PlainRib) {
  Beam beam = level_beam(1.2, 200, {0, 200});
  const BeamState state = beam.solve(even_load(beam, 2e3, 0, 200));
  ASSERT_TRUE(state.balances);
  EXPECT_NEAR(sagging_at(state, 100), 360, 1e-3);
  EXPECT_NEAR(6 * sagging_at(state, 100) / (0.018 * 0.15 * 0.15), 5.333e6, 1e3);
  EXPECT_NEAR(-state.move[100].y(), 1.185e-3, 1e-6);
  EXPECT_NEAR(state.cuts.front()[0].shear_n / 1.2e3, 1, 0.01);  // half a piece from the support
}

// Source: handbook coefficients of continuous beams under even load (three-moment equation). Two
// spans: -0.125 w L^2 over the middle, 0.0703 (9/128) in the spans, reactions 3/8, 10/8, 3/8.
TEST(PublishedCentring, TwoSpans) {
  const double L = 1.5, w = 3e3;
  Beam beam = level_beam(2 * L, 400, {0, 200, 400});
  const BeamState state = beam.solve(even_load(beam, w, 0, 400));
  ASSERT_TRUE(state.balances);
  EXPECT_NEAR(sagging_at(state, 200) / (w * L * L), -0.125, 2e-5);
  EXPECT_NEAR(sagging_at(state, 75) / (w * L * L), 9.0 / 128, 2e-5);
  EXPECT_NEAR(state.reaction[0].y() / (w * L), 0.375, 2e-5);
  EXPECT_NEAR(state.reaction[1].y() / (w * L), 1.25, 2e-5);
  EXPECT_NEAR(state.reaction[0].y() + state.reaction[1].y() + state.reaction[2].y(), 2 * w * L,
              1e-7 * w * L);  // rounding of 400 stiff pieces
}

// Source: as above. Three spans: -0.1 w L^2 over the inner supports, 0.08 in the end spans, 0.025
// in the middle one, reactions 0.4 and 1.1 w L, deflection of an end span 0.00688 w L^4/(E I).
TEST(PublishedCentring, ThreeSpans) {
  const double L = 1.2, w = 2e3, I = 0.018 * std::pow(0.15, 3) / 12;
  Beam beam = level_beam(3 * L, 600, {0, 200, 400, 600});
  const BeamState state = beam.solve(even_load(beam, w, 0, 600));
  ASSERT_TRUE(state.balances);
  EXPECT_NEAR(sagging_at(state, 200) / (w * L * L), -0.1, 2e-5);
  EXPECT_NEAR(sagging_at(state, 80) / (w * L * L), 0.08, 2e-5);
  EXPECT_NEAR(sagging_at(state, 300) / (w * L * L), 0.025, 2e-5);
  EXPECT_NEAR(state.reaction[0].y() / (w * L), 0.4, 1e-4);
  EXPECT_NEAR(state.reaction[1].y() / (w * L), 1.1, 1e-4);
  double most = 0;
  for (const Vec2& move : state.move) most = std::max(most, -move.y());
  EXPECT_NEAR(most * kE * I / (w * std::pow(L, 4)), 0.00688, 1e-5);
}

// Source: three-moment equation. One of two spans loaded: the far foot would be pulled by w L/16;
// let go, the loaded span is a plain beam: w L/2, w L^2/8, and its end turns by w L^3/(24 E I).
TEST(PublishedCentring, FootThatLifts) {
  const double L = 1.2, w = 2e3, I = 0.018 * std::pow(0.15, 3) / 12;
  Beam beam = level_beam(2 * L, 400, {0, 200, 400});
  const BeamState state = beam.solve(even_load(beam, w, 0, 200));
  ASSERT_TRUE(state.balances);
  EXPECT_EQ(state.reaction[2].y(), 0);
  EXPECT_NEAR(state.reaction[1].y(), w * L / 2, 1e-3);
  EXPECT_NEAR(sagging_at(state, 100), w * L * L / 8, 1e-3);
  EXPECT_NEAR(state.move[400].y() / (w * std::pow(L, 4) / (24 * kE * I)), 1, 1e-4);
}

// Source: closed form. Depth h = a + b x from either end to the middle, P there: each half is a
// cantilever with P/2 at its tip, so the drop is P/2 * 12/(E t) * integral of x^2/(a + b x)^3 =
// [ln h + 2 a/h - a^2/(2 h^2)]/b^3.
TEST(PublishedCentring, DepthThatVaries) {
  const double L = 0.8, a = 0.1, c = 0.3, b = (c - a) / L, t = 0.018, P = 4e3;
  BeamShape shape;
  shape.thickness_m = t;
  shape.stiffness_pa = kE;
  for (int i = 0; i <= 80; ++i) {
    const double x = L * i / 40;
    shape.axis.emplace_back(x, 0);
    shape.depth_m.push_back(a + b * std::min(x, 2 * L - x));
  }
  Beam beam(shape, {{0, 0}, {80, 0}});
  const BeamState state = beam.solve({{40, {0, -P}, 0}});
  const auto integral = [&](double h) { return std::log(h) + 2 * a / h - a * a / (2 * h * h); };
  const double drop = P / 2 * 12 / (kE * t) * (integral(c) - integral(a)) / (b * b * b);
  EXPECT_NEAR(-state.move[40].y() / drop, 1, 1e-6);
}

// Source: closed form (unit load, bending alone). Half ring on a pin and a roller, P at its crown:
// drop (3 pi/8 - 1) P R^3/(E I); moment at the crown P R/2.
TEST(PublishedCentring, HalfRing) {
  const double R = 2, P = 100, h = 0.02, t = 0.02, I = t * h * h * h / 12;
  BeamShape shape;
  shape.thickness_m = t;
  shape.stiffness_pa = kE;
  for (int i = 0; i <= 400; ++i) {
    const double turn = kPi * i / 400;
    shape.axis.emplace_back(-R * std::cos(turn), R * std::sin(turn));
    shape.depth_m.push_back(h);
  }
  Beam beam(shape, {{0, 0}, {400, 0}});
  const BeamState state = beam.solve({{200, {0, -P}, 0}});
  const double drop = (3 * kPi / 8 - 1) * P * R * R * R / (kE * I);
  EXPECT_NEAR(-state.move[200].y() / drop, 1, 1e-3);
  EXPECT_NEAR(sagging_at(state, 200), P * R / 2, 1e-7 * P * R);
}

// Source: Timoshenko: a plain beam with P in its middle drops P L/(4 k G A) more by shear, k 5/6.
TEST(PublishedCentring, Shear) {
  const double L = 1, P = 1e3, G = kE / 12, A = 0.018 * 0.15;
  Beam stiff = level_beam(L, 20, {0, 20});
  BeamShape shape = stiff.shape();
  shape.shear_modulus_pa = G;
  Beam soft(shape, stiff.supports());
  const double more =
      stiff.solve({{10, {0, -P}, 0}}).move[10].y() - soft.solve({{10, {0, -P}, 0}}).move[10].y();
  EXPECT_NEAR(more / (P * L / (4 * 5.0 / 6 * G * A)), 1, 1e-6);
}

// Source: EN 1995-1-1, 6.3.2, from memory; worked by hand for C24 (f_c,0,k 21, E_0.05 7400 MPa).
// lambda 100: lambda_rel 100/pi sqrt(21/7400) = 1.6957, k = 0.5 (1 + 0.2 * 1.3957 + 2.8752) =
// 2.0772, k_c = 1/(2.0772 + sqrt(4.3147 - 2.8752)) = 0.3052. lambda 50: 0.8478, k 0.9142, 0.7961.
TEST(PublishedCentring, BucklingFactor) {
  EXPECT_NEAR(relative_slenderness(100, 21e6, 7.4e9), 1.6957, 1e-4);
  EXPECT_NEAR(buckling_factor(relative_slenderness(100, 21e6, 7.4e9)), 0.3052, 1e-4);
  EXPECT_NEAR(buckling_factor(relative_slenderness(50, 21e6, 7.4e9)), 0.7961, 1e-4);
  EXPECT_EQ(buckling_factor(0.3), 1);
}

// Source: Euler, pi^2 E I/L^2: k_c f_c A approaches it from below as the post gets slender, as
// 1/(lambda_rel^2 + beta_c lambda_rel + ...).
TEST(PublishedCentring, EulerLoad) {
  const double low = 5e9, side = 0.1, f = 21e6;
  for (const double length : {10.0, 100.0, 1000.0}) {
    const double relative = relative_slenderness(length * std::sqrt(12.0) / side, f, low);
    const double euler = kPi * kPi * low * std::pow(side, 4) / 12 / (length * length);
    const double ratio = buckling_factor(relative) * f * side * side / euler;
    EXPECT_LT(ratio, 1);
    EXPECT_GT(ratio, 1 - (1 + kBetaSawn * relative) / (relative * relative));
  }
}

// Source: EN 1995-1-1, (6.30), (6.32), (6.34), from memory; worked by hand. 18 x 300 mm, 0.8 m,
// E_0.05 5 GPa: 0.78 * 18^2 * 5000/(300 * 800) = 5.265 MPa; f_m 33: lambda_rel 2.5036, k 0.1595.
TEST(PublishedCentring, SidewaysFactor) {
  const double critical = critical_bending_pa(0.018, 0.3, 0.8, 5e9);
  EXPECT_NEAR(critical, 5.265e6, 1e2);
  EXPECT_NEAR(sideways_factor(std::sqrt(33e6 / critical)), 0.1595, 1e-4);
  EXPECT_EQ(sideways_factor(0.75), 1);
  EXPECT_NEAR(sideways_factor(1.0), 0.81, 1e-12);
}

// Source: EN 1995-1-1, (8.7), (8.30), (8.36), from memory; worked by hand. Bolt of 10 mm,
// grade 4.6, three sheets of 18 mm, 685 kg/m3: f_h 67.815 N/mm2, M_y 47773 N mm; g 12207, h 6103, j
// 6711, k 9257 N. Thin bolt of 3 mm: f_h 73.09, M_y 2087; h 1973, j 1501, k 1100 N.
TEST(PublishedCentring, Bolt) {
  EXPECT_NEAR(bolt_in_three_n(0.018, 685, 0.010, 400e6), 6103, 1);
  EXPECT_NEAR(bolt_in_three_n(0.018, 685, 0.003, 400e6), 1100, 1);
}

const CentringCheck& check_named(const Centring& centring, const std::string& name) {
  for (const CentringCheck& check : centring.checks) {
    if (check.name == name) return check;
  }
  throw std::out_of_range(name);
}

Brief light_brief() {
  Brief brief;
  brief.centring.density = 1e-6;  // its own weight left out of the sums
  return brief;
}

// Source: worked by hand. Blocks 0.30 m deep at 22 kN/m3 weigh 6.6 kN/m2; with 1.5 kN/m2 of people
// and tools 8.1. Factors 1.35 and 1.5 (EN 1990, from memory): 8.91 + 2.25 = 11.16 kN/m2.
TEST(PublishedCentring, LoadPerArea) {
  sample::LevelCentring with;
  with.density = 22e3 / kGravity;
  const Assembly assembly = sample::blocks_on(with);
  Centring centring = sample::level_centring(with);
  Brief brief = light_brief();
  brief.centring.horizontal_share = 0;  // no braces pressing on the feet
  judge_centring(brief, assembly, {sample::weights(assembly, centring, 4)}, centring);
  const double plan = with.length_m * with.width_m;
  double weight = 0, design = 0;
  for (const FootFinding& foot : centring.foot_findings) {
    weight += foot.load_max_n / plan;
    design += foot.design_n / plan;
  }
  EXPECT_NEAR(weight, 6.6e3, 1e-3);
  EXPECT_NEAR(centring.load_max_n / plan, 6.6e3, 1e-3);
  EXPECT_NEAR(design, 1.35 * 6.6e3 + 1.5 * 1.5e3, 1e-3);
  EXPECT_NEAR(weight + brief.centring.working_load_pa, 8.1e3, 1e-3);
}

// Source: EN 12812 (1 %) and BS 5975 (2.5 %), from memory: 60 kN on a centring asks for 0.6 or
// 1.5 kN sideways; here times gamma_G 1.35 on the weight.
TEST(PublishedCentring, LeastSideways) {
  sample::LevelCentring with;
  with.density = 60e3 / kGravity / (with.length_m * with.width_m * with.block_depth_m);
  const Assembly assembly = sample::blocks_on(with);
  Brief brief = light_brief();
  brief.centring.working_load_pa = 0;
  for (const auto& [share, expected] : {std::pair(0.01, 0.6e3), std::pair(0.025, 1.5e3)}) {
    Centring centring = sample::level_centring(with);
    brief.centring.horizontal_share = share;
    judge_centring(brief, assembly, {sample::weights(assembly, centring, 4)}, centring);
    EXPECT_NEAR(check_named(centring, "sideways").demand / 1.35, expected, 0.1);
  }
}

}  // namespace
}  // namespace skewback
