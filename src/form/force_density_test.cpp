#include "form/force_density.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "form/free_system.hpp"
#include "form/sample_nets.hpp"

namespace skewback {
namespace {

Vec3 down(double p) { return {0, 0, -p}; }

// Square net of n x n meshes over the unit square, rim fixed, load 1 per area, q 1.
double centre_height(int n) {
  Net net;
  std::vector<Vec3> load;
  const auto at = [n](int i, int j) { return i * (n + 1) + j; };
  for (int i = 0; i <= n; ++i)
    for (int j = 0; j <= n; ++j) {
      net.points.emplace_back(double(i) / n, double(j) / n, 0);
      net.fixed.push_back(i == 0 || j == 0 || i == n || j == n);
      load.push_back(down(1.0 / (n * n)));
      if (i < n) net.edges.push_back({at(i, j), at(i + 1, j), 1.0});
      if (j < n) net.edges.push_back({at(i, j), at(i, j + 1), 1.0});
    }
  return equilibrium(net, load).value()[at(n / 2, n / 2)].z();
}

// Closed form (five-point Poisson system on a square; n = 4 is 9/128 by hand); the series limit is
// 0.0736713 (S. Timoshenko, S. Woinowsky-Krieger, membrane under uniform load; from memory).
TEST(ForceDensity, SquareNetMeetsThePoissonSystem) {
  EXPECT_NEAR(centre_height(4), 9.0 / 128, 1e-12);
  EXPECT_NEAR(centre_height(8), 0.0727826, 1e-7);
  EXPECT_NEAR(centre_height(16), 0.0734458, 1e-7);
  const double a = centre_height(16), b = centre_height(32);
  EXPECT_NEAR(b + (b - a) / 3, 0.0736713, 1e-6);  // error falls with the square of the mesh
}

// A chain over `span` with its horizontal force F in every edge.
Net chain(const std::vector<double>& x, double force) {
  Net net;
  for (std::size_t i = 0; i < x.size(); ++i) {
    net.points.emplace_back(x[i], 0, 0);
    net.fixed.push_back(i == 0 || i + 1 == x.size());
    if (i > 0) net.edges.push_back({int(i) - 1, int(i), force / (x[i] - x[i - 1])});
  }
  return net;
}

std::vector<double> even(double from, double to, int steps) {
  std::vector<double> x;
  for (int i = 0; i <= steps; ++i) x.push_back(from + (to - from) * i / steps);
  return x;
}

// Closed form: moments of three unit loads at the quarter points of a span of 4 over H = 1.
TEST(ForceDensity, ThreeLoadsStandAtTheirMoments) {
  const std::vector<Vec3> load(5, down(1));
  const auto p = equilibrium(chain({0, 1, 2, 3, 4}, 1.0), load);
  EXPECT_NEAR(p.value()[1].z(), 1.5, 1e-12);
  EXPECT_NEAR(p.value()[2].z(), 2.0, 1e-12);
  EXPECT_NEAR(p.value()[3].z(), 1.5, 1e-12);
}

// Closed form: H = w L^2 / 8 f of the parabola.
TEST(ForceDensity, ParabolaHasItsThrust) {
  const double w = 3.7, span = 9, rise = 1.6;
  const int steps = 40;
  Net net = chain(even(0, span, steps), 1.0);
  const std::vector<double> load(steps + 1, w * span / steps);
  const auto found = equilibrium_with_height(net, load, {steps / 2}, rise);
  const NetEdge& e = found->edges.front();
  const double thrust = e.q * (found->points[e.b].x() - found->points[e.a].x());
  EXPECT_NEAR(thrust, w * span * span / (8 * rise), 1e-9);
  EXPECT_NEAR(found->points[steps / 4].z(), 0.75 * rise, 1e-12);
}

// J. C. Maxwell 1864: the sum of force times length over the struts is the virial of the outer
// forces, here loads and reactions about any origin.
TEST(ForceDensity, MaxwellsSumOfForceTimesLength) {
  Net net = chain({0, 0.7, 2, 3.1, 4}, 2.0);
  net.points.front() = {0.2, -0.3, 0.4};
  const std::vector<Vec3> load = {down(0), down(2), down(1), down(0.5), down(0)};
  net.points = equilibrium(net, load).value();
  double force_length = 0, virial = 0;
  for (const NetEdge& e : net.edges)
    force_length += e.q * (net.points[e.a] - net.points[e.b]).squaredNorm();
  const std::vector<Vec3> rest = unbalanced(net, load);
  for (std::size_t i = 0; i < rest.size(); ++i)
    virial += (load[i] - (net.fixed[i] ? rest[i] : Vec3(Vec3::Zero()))).dot(net.points[i]);
  EXPECT_NEAR(-virial, force_length, 1e-9 * force_length);
}

// Catenary by weight per arc length, span 10, rise 3. Closed form: 3 = a (cosh(5/a) - 1) gives
// a = H/w = 4.594471 and an arc of 2 a sinh(5/a) = 12.094102.
TEST(ForceDensity, WeightByArcLengthGivesACatenary) {
  const int steps = 200;
  Net net = chain(even(0, 10, steps), 1.0);
  double thrust = 0, arc = 0;
  std::vector<double> load(steps + 1, 10.0 / steps);
  for (int round = 0; round < 60; ++round) {
    net = equilibrium_with_height(net, load, {steps / 2}, 3.0).value();
    load.assign(load.size(), 0.0);
    arc = 0;
    for (const NetEdge& e : net.edges) {
      const double l = (net.points[e.a] - net.points[e.b]).norm();
      load[e.a] += 0.5 * l;
      load[e.b] += 0.5 * l;
      arc += l;
      thrust = e.q * (net.points[e.b].x() - net.points[e.a].x());
    }
  }
  EXPECT_NEAR(thrust, 4.594471, 1e-3 * 4.594471);
  EXPECT_NEAR(arc, 12.094102, 1e-3 * 12.094102);
}

TEST(ForceDensity, APointThatNothingHoldsIsAFault) {
  Net net = chain({0, 1, 2}, 1.0);
  net.points.emplace_back(5, 5, 5);
  net.fixed.push_back(0);
  const auto found = equilibrium(net, std::vector<Vec3>(4, down(1)));
  ASSERT_FALSE(found.ok());
  EXPECT_NE(found.faults().front().found.find("no edge holds"), std::string::npos);
}

SparseMatrix matrix_of(const Net& net, const std::vector<int>& index, int size) {
  std::vector<Eigen::Triplet<double>> entries;
  for (const NetEdge& e : net.edges) {
    const int a = index[e.a], b = index[e.b];
    if (a >= 0) entries.emplace_back(a, a, e.q);
    if (b >= 0) entries.emplace_back(b, b, e.q);
    if (a < 0 || b < 0) continue;
    entries.emplace_back(a, b, -e.q);
    entries.emplace_back(b, a, -e.q);
  }
  SparseMatrix D(size, size);
  D.setFromTriplets(entries.begin(), entries.end());
  return D;
}

// Against Eigen's own solve with its own factor of the same matrix, bit for bit, of a new system
// and of one that is given other forces.
TEST(FreeSystem, SolvesAsTheFactorDoesToTheLastBit) {
  std::mt19937 random(7);
  Net net = sample::shaken_grid(9, 13, 0.25, true, random);
  for (NetEdge& e : net.edges) e.q = 0.5 + sample::share(random);
  std::vector<int> index(net.points.size(), -1);
  int size = 0;
  for (std::size_t p = 0; p < index.size(); ++p)
    if (!net.fixed[p]) index[p] = size++;
  FreeSystem system(net);
  for (int round = 0; round < 3; ++round) {
    const SparseMatrix D = matrix_of(net, index, size);
    const Eigen::SimplicialLDLT<SparseMatrix> factor(D);
    Eigen::MatrixXd right(size, 4);
    FreeSystem::Sides plain = system.no_sides();
    for (std::size_t p = 0; p < index.size(); ++p)
      for (int c = 0; c < 4 && index[p] >= 0; ++c)
        plain[system.row(int(p))].of[c] = right(index[p], c) =
            double(random()) / 4294967296.0 - 0.5;
    const FreeSystem::Sides refined = system.solve(plain);
    system.solve_plainly_in_place(plain);
    const Eigen::MatrixXd expected = factor.solve(right);
    Eigen::MatrixXd better = expected;
    for (int turn = 0; turn < 2; ++turn) better += factor.solve(right - D * better);
    for (std::size_t p = 0; p < index.size(); ++p)
      for (int c = 0; c < 4 && index[p] >= 0; ++c) {
        const int row = system.row(int(p));
        ASSERT_EQ(plain[row].of[c], expected(index[p], c)) << p << ", " << c << ", " << round;
        ASSERT_EQ(refined[row].of[c], better(index[p], c)) << p << ", " << c << ", " << round;
      }
    for (NetEdge& e : net.edges) e.q *= 0.5 + sample::share(random);
    system.refactor(net);
  }
}

TEST(FreeSystem, FindsItsOrderOnceItCanBeFactorised) {
  Net net = chain({0, 1, 2, 3}, 1.0);
  for (NetEdge& e : net.edges) e.q = 0;
  FreeSystem system(net);
  EXPECT_FALSE(system.ok());
  for (NetEdge& e : net.edges) e.q = 2;
  system.refactor(net);
  ASSERT_TRUE(system.ok());
  const std::vector<Vec3> none(4, Vec3::Zero());
  const auto placed = system.placed(net, system.solve(system.right_side(net, none)));
  for (int i = 0; i < 4; ++i) EXPECT_NEAR(placed[i].x(), i, 1e-15);
}

}  // namespace
}  // namespace skewback
