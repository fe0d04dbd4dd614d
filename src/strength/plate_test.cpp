#include "strength/plate.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace skewback {
namespace {

// Source: closed form. With nu = 0 the plate is a row of beams: clamped q l^2 / 24 and / 12, q l^4
// / 384; resting q l^2 / 8; edges that turn, by the slope they take: M_edge = q l^2 / 12 k / (k +
// 2).
TEST(Plate, BeamsUnderEvenLoad) {
  const double l = 0.3, q = 2e4;
  PlateShape shape{.span_m = l, .length_m = 0.5, .poisson = 0};
  const PlatePatch all{{-1, -1}, {1, 1}, q};
  Plate clamped(shape);
  clamped.load(all);
  EXPECT_NEAR(clamped.bending({0, 0.1}).xx, q * l * l / 24, 1e-6 * q * l * l);
  EXPECT_NEAR(clamped.bending({l / 2, 0.3}).xx, -q * l * l / 12, 1e-6 * q * l * l);
  EXPECT_NEAR(clamped.deflection({0, 0.3}), q * std::pow(l, 4) / 384, 1e-8 * q * std::pow(l, 4));
  shape.left = shape.right = 0;
  Plate resting(shape);
  resting.load(all);
  EXPECT_NEAR(resting.bending({0, 0.0}).xx, q * l * l / 8, 1e-6 * q * l * l);
  shape.left = shape.right = 3;
  Plate turning(shape);
  turning.load(all);
  EXPECT_NEAR(turning.bending({l / 2, 0.2}).xx, -q * l * l / 12 * 3 / 5, 1e-6 * q * l * l);
}

// Source: Levy's solution of the endless strip that rests on both edges, under a square of 0.6 of
// its span (Timoshenko and Woinowsky-Krieger 1959, article 37, summed anew here): sines across,
// each with an ordinary differential equation along. Shares nothing with Ritz.
TEST(Plate, LongStripUnderASquare) {
  const double a = 1, u = 0.6, nu = 0.2, P = 1e3, q = P / (u * u);
  // Per sine: load q_m = 4 q / (m pi) sin(m pi u / 2a) on |y| < u/2. At the middle of an endless
  // strip, k = m pi / a: D w = q_m / k^4 (1 - e^(-k u/2) (1 + k u / 4)),
  // D w'' = - q_m / k^2 e^(-k u / 2) k u / 4.
  double xx = 0, yy = 0;
  for (int m = 1; m < 400; m += 2) {
    const double k = m * M_PI / a, e = std::exp(-k * u / 2);
    const double qm =
        4 * q / (m * M_PI) * std::sin(m * M_PI * u / (2 * a)) * std::sin(m * M_PI / 2);
    const double w = qm / std::pow(k, 4) * (1 - e * (1 + k * u / 4)),
                 w_yy = -qm / (k * k) * e * k * u / 4;
    const double sine = std::sin(m * M_PI / 2);
    xx += sine * (k * k * w - nu * w_yy);
    yy += sine * (-w_yy + nu * k * k * w);
  }
  PlateShape shape{.span_m = a, .length_m = 2.4 * a, .poisson = nu, .left = 0, .right = 0};
  Plate plate(shape);
  const double y = 1.2 * a;
  plate.load({{-u / 2, y - u / 2}, {u / 2, y + u / 2}, q});
  EXPECT_NEAR(plate.bending({0, y}).xx / xx, 1, 0.02) << xx;
  EXPECT_NEAR(plate.bending({0, y}).yy / yy, 1, 0.04) << yy;
}

// Equilibrium: over any section along the flow the bending adds up to that of the beam.
TEST(Plate, PatchBalances) {
  const double l = 0.255, u = 0.1, q = 1e6, L = 0.4, nu = 0.2;
  for (const double at : {0.05, 0.2}) {
    PlateShape shape{.span_m = l, .length_m = L, .poisson = nu, .left = 0, .right = 0};
    Plate plate(shape);
    plate.load({{-u / 2, at - u / 2}, {u / 2, at + u / 2}, q});
    double sum = 0;
    const int n = 4000;
    for (int i = 0; i < n; ++i) sum += plate.bending({0, (i + 0.5) * L / n}).xx * L / n;
    EXPECT_NEAR(sum / (q * u * u * (l / 4 - u / 8)), 1, 0.02);
  }
}

}  // namespace
}  // namespace skewback
