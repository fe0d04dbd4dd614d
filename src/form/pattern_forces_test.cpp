#include "form/pattern_forces.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numeric>

#include "form/force_density.hpp"
#include "form/sample_plans.hpp"

namespace skewback {
namespace {

constexpr double kSpan = 10, kRise = 2, kLoad = 1000;  // m, m, N/m
constexpr int kParts = 80;

// A parabolic chain under an even load per span, in equilibrium.
Form parabola() {
  Form form;
  const double dx = kSpan / kParts, thrust = kLoad * kSpan * kSpan / (8 * kRise);
  for (int i = 0; i <= kParts; ++i) {
    const double x = i * dx;
    form.vertices.emplace_back(x, 0, 4 * kRise * x * (kSpan - x) / (kSpan * kSpan));
    form.support_of.push_back(i == 0 ? 0 : i == kParts ? 1 : -1);
    form.load_n.push_back(i == 0 || i == kParts ? 0 : kLoad * dx);
    if (i < kParts) form.edges.push_back({i, i + 1, thrust / dx, -1});
  }
  return form;
}

// With p more on half the span the thrust line of an arch with its springings held strays least
// when its thrust is that of the mean load; then it is p f / (8 w + 4 p) off at either quarter, up
// and down: the moment of the load's odd part there is p L^2 / 64, the thrust (w + p / 2) L^2 / 8f.
// That is measured upright; here square to the arch, so by the cosine of the slope at the quarter.
TEST(PatternForces, HalfLoadOnAParabolaStraysAsStaticsSays) {
  const Form form = parabola();
  const double p = 600, dx = kSpan / kParts;
  std::vector<double> load = form.load_n;
  for (int i = 1; i < kParts; ++i)
    load[std::size_t(i)] += 2 * i < kParts ? p * dx : 2 * i == kParts ? p * dx / 2 : 0;
  const double depth = 0.5;
  const auto got =
      pattern_forces(form, std::vector<double>(form.vertices.size(), depth), load).value();
  const double upright = p * kRise / (8 * kLoad + 4 * p);
  // slope at the quarter: 2 f / L; the greatest product of offset and cosine is within a per cent
  const double square = upright / std::hypot(1, 2 * kRise / kSpan);
  EXPECT_NEAR(got.share, square / (depth / 2), 0.02 * square / (depth / 2));
  EXPECT_LT(got.residual_rel, 1e-12);
  EXPECT_NEAR(got.thrust_max_n, (kLoad + p / 2) * kSpan * kSpan / (8 * kRise),
              0.01 * kLoad * kSpan * kSpan / (8 * kRise));
  EXPECT_LT(got.plan_shift_m, 0.02);
}

TEST(PatternForces, TwiceTheOwnLoadNeedsNoDepth) {
  const Form form = parabola();
  std::vector<double> load = form.load_n;
  for (double& p : load) p *= 2;
  const auto got =
      pattern_forces(form, std::vector<double>(form.vertices.size(), 0.4), load).value();
  EXPECT_LT(got.share, 1e-6);
  for (std::size_t k = 0; k < got.q.size(); ++k)
    EXPECT_NEAR(got.q[k], 2 * form.edges[k].q, 1e-6 * form.edges[k].q);
}

// On a surface with three legs: in balance, in compression, and a load on one leg needs more depth
// than a tenth of it does.
TEST(PatternForces, OnThreeLegsAreInBalanceAndGrowWithTheLoad) {
  const Brief brief = sample::wren_leat();
  const Form form = find_form(brief).value();
  const std::vector<double> depth(form.vertices.size(), 0.4);
  std::vector<double> leg(form.vertices.size(), 0);
  for (std::size_t t = 0; t < form.triangles.size(); ++t)
    for (int v : form.triangles[t])
      if (form.arm[t] == 0) leg[std::size_t(v)] = form.load_n[std::size_t(v)];
  const auto under = [&](double share) {
    std::vector<double> load = form.load_n;
    for (std::size_t v = 0; v < load.size(); ++v) load[v] += share * leg[v];
    return pattern_forces(form, depth, load).value();
  };
  const PatternForces little = under(0.04), much = under(0.4);
  for (const PatternForces* got : {&little, &much}) {
    EXPECT_LT(got->residual_rel, 1e-11);
    for (double q : got->q) EXPECT_GT(q, 0);
  }
  EXPECT_LT(little.share, 0.5 * much.share);
}

}  // namespace
}  // namespace skewback
