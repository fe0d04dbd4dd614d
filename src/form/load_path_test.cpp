#include "form/load_path.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "form/mesh.hpp"
#include "form/sample_nets.hpp"
#include "form/sample_plans.hpp"

namespace skewback {
namespace {

using sample::random_loads;
using sample::shaken_grid;

double length(const Net& net, const NetEdge& e) {
  return (net.points[e.a] - net.points[e.b]).norm();
}

// Chain along `way` from the origin over `span`, both ends fixed; end levels given.
Net chain(int steps, double span, const Vec2& way, double far_level = 0) {
  Net net;
  for (int i = 0; i <= steps; ++i) {
    const Vec2 p = way * (span * i / steps);
    net.points.emplace_back(p.x(), p.y(), i == steps ? far_level : 0);
    net.fixed.push_back(i == 0 || i == steps);
    if (i > 0) net.edges.push_back({i - 1, i});
  }
  return net;
}

double summed_path(const Net& net) {
  double sum = 0;
  for (const NetEdge& e : net.edges) sum += e.q * length(net, e) * length(net, e);
  return sum;
}

LoadPath found(const Net& net, const std::vector<double>& load) {
  auto answer = least_load_path(net, load);
  if (!answer) {
    ADD_FAILURE() << describe(answer.faults().front());
    return {};
  }
  return *answer;
}

// Closed form: with z = 4 f x (L - x) / L^2, H = w L^2 / 8 f and path H L + (16/3) H f^2 / L, least
// at f / L = sqrt(3) / 4: H = w L / sqrt(12), path w L^2 / sqrt(3). n even steps fall short by
// 1 / n^2.
TEST(LoadPath, EvenLoadOverASpanIsAParabolaOfItsRise) {
  const double w = 7.3e3, span = 11.7;
  for (const double turn : {0.0, 0.7}) {
    const int steps = 200;
    const Net net = chain(steps, span, {std::cos(turn), std::sin(turn)});
    const LoadPath best = found(net, std::vector<double>(steps + 1, w * span / steps));
    const double thrust = best.net.edges.front().q * span / steps;
    EXPECT_NEAR(thrust / (w * span), 1 / std::sqrt(12.0), 1e-4);
    EXPECT_NEAR(best.net.points[steps / 2].z() / span, std::sqrt(3.0) / 4, 1e-4);
    EXPECT_NEAR(best.path_nm / (w * span * span), 1 / std::sqrt(3.0), 1e-4);
    EXPECT_LE(std::abs(best.gap_rel), 1e-9);
  }
}

// Closed form: four struts of plan length 1 / sqrt(2) under one load; path 4 q (1/2 + h^2) with
// 4 q h = P is least at h = 1 / sqrt(2).
TEST(LoadPath, OneLoadOverFourCorners) {
  Net net;
  net.points = {{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {0, 1, 0}, {0.5, 0.5, 0}};
  net.fixed = {1, 1, 1, 1, 0};
  net.edges = {{0, 4}, {1, 4}, {2, 4}, {3, 4}};
  const double P = 12.5e3;
  const LoadPath best = found(net, {0, 0, 0, 0, P});
  EXPECT_NEAR(best.net.points[4].z(), std::sqrt(0.5), 1e-5);
  EXPECT_NEAR(best.path_nm / P, std::sqrt(2.0), 1e-5);
  for (const NetEdge& e : best.net.edges) EXPECT_NEAR(e.q / P, 1 / (2 * std::sqrt(2.0)), 1e-5);
}

// Rozvany and Prager 1979 (from memory), and by hand from dz^2 = l^2 + u_a - u_b on a line of one
// thrust: each arch of a grid of straight lines has a mean square slope of 1, and an idle line no
// more.
TEST(LoadPath, ArchesOfAGridHaveAMeanSquareSlopeOfOne) {
  std::mt19937 random(7);
  const int nx = 9, ny = 6;
  const Net net = shaken_grid(nx, ny, 0, false, random);
  const LoadPath best = found(net, random_loads(net, random));
  std::vector<double> squares(nx + ny + 2, 0), force(nx + ny + 2, 0);
  double greatest = 0;
  for (const NetEdge& e : best.net.edges) {
    const Vec3 a = best.net.points[e.a], b = best.net.points[e.b];
    const bool along_x = a.y() == b.y();
    const std::size_t line = along_x ? std::size_t(a.y()) : std::size_t(ny + 1 + a.x());
    squares[line] += std::pow(b.z() - a.z(), 2) / (along_x ? nx : ny);
    force[line] = e.q;
    greatest = std::max(greatest, e.q);
  }
  int arches = 0;
  for (std::size_t line = 0; line < squares.size(); ++line) {
    EXPECT_LE(squares[line], 1 + 1e-6) << "line " << line;
    if (force[line] < 1e-3 * greatest) continue;
    ++arches;
    EXPECT_NEAR(squares[line], 1, 1e-6) << "line " << line;
  }
  EXPECT_GE(arches, 3);
}

class LoadPathRandom : public testing::TestWithParam<int> {};
INSTANTIATE_TEST_SUITE_P(Seeds, LoadPathRandom, testing::Range(1, 9));

// J. C. Maxwell 1864: struts' sum of force times length is minus the virial of loads and reactions.
TEST_P(LoadPathRandom, IsInBalanceAndHasMaxwellsSum) {
  std::mt19937 random(GetParam());
  const Net net = shaken_grid(7, 5, 0.25, true, random);
  const std::vector<double> load = random_loads(net, random);
  const LoadPath best = found(net, load);
  const std::vector<Vec3> rest = unbalanced(best.net, as_forces(load));
  double all = 0, virial = 0;
  for (double p : load) all += p;
  for (std::size_t i = 0; i < rest.size(); ++i) {
    if (!net.fixed[i]) {
      EXPECT_LE(rest[i].norm(), 1e-8 * all) << "point " << i;
    }
    const Vec3 outer = as_forces(load)[i] - (net.fixed[i] ? rest[i] : Vec3(Vec3::Zero()));
    virial += outer.dot(best.net.points[i] - Vec3(3, 2, 1));
    EXPECT_EQ(best.net.points[i].head<2>(), net.points[i].head<2>());
  }
  EXPECT_NEAR(-virial, best.path_nm, 1e-7 * best.path_nm);
  EXPECT_NEAR(summed_path(best.net), best.path_nm, 1e-7 * best.path_nm);
  for (const NetEdge& e : best.net.edges) EXPECT_GE(e.q, 0);
  EXPECT_LE(std::abs(best.gap_rel), 1e-9);
}

// The answer is a least one: no other state over the same plan has less. Others are made by mixing
// in states of single sets of force that are in balance in plan: the least path under other loads.
TEST_P(LoadPathRandom, NoOtherStateHasLess) {
  std::mt19937 random(100 + GetParam());
  const Net net = shaken_grid(6, 5, 0.25, true, random);
  const std::vector<double> load = random_loads(net, random);
  const LoadPath best = found(net, load);
  for (int trial = 0; trial < 5; ++trial) {
    const LoadPath other = found(net, random_loads(net, random));
    for (const double share : {1.0, 0.1, 0.01}) {
      Net mixed = best.net;
      for (std::size_t k = 0; k < mixed.edges.size(); ++k)
        mixed.edges[k].q += share * (other.net.edges[k].q - mixed.edges[k].q);
      const auto points = equilibrium(mixed, as_forces(load));
      ASSERT_TRUE(points.ok());
      mixed.points = *points;
      EXPECT_GE(summed_path(mixed), best.path_nm * (1 - 1e-9)) << "share " << share;
    }
  }
}

// Turning, moving and scaling the plan and scaling the loads scale the path: PL.
TEST_P(LoadPathRandom, ScalesAndTurns) {
  std::mt19937 random(200 + GetParam());
  const Net net = shaken_grid(5, 4, 0.25, true, random);
  std::vector<double> load = random_loads(net, random);
  const double before = found(net, load).path_nm;
  Net other = net;
  const double c = std::cos(0.4), s = std::sin(0.4);
  for (Vec3& p : other.points)
    p = Vec3(3.7 * (c * p.x() - s * p.y()) + 41, 3.7 * (s * p.x() + c * p.y()) - 17, 2.5);
  for (double& p : load) p *= 250;
  EXPECT_NEAR(found(other, load).path_nm, before * 3.7 * 250, 1e-7 * before * 3.7 * 250);
}

// A tilted chain against the least over its only unknown, the thrust, by golden section.
TEST(LoadPath, UnevenSupports) {
  const int steps = 12;
  const double rise = 3.1, span = 9;
  const Net net = chain(steps, span, {0.6, 0.8}, rise);
  std::mt19937 random(5);
  const std::vector<double> load = random_loads(net, random);
  const LoadPath best = found(net, load);
  const auto path = [&](double q) {
    Net one = net;
    for (NetEdge& e : one.edges) e.q = q;
    one.points = equilibrium(one, as_forces(load)).value();
    return summed_path(one);
  };
  double low = 1e-3, high = 1e3;
  for (int i = 0; i < 200; ++i) {
    const double a = low + 0.382 * (high - low), b = low + 0.618 * (high - low);
    (path(a) < path(b) ? high : low) = path(a) < path(b) ? b : a;
  }
  EXPECT_NEAR(best.path_nm, path(low), 1e-8 * path(low));
  EXPECT_NEAR(best.net.edges[3].q, low, 1e-5 * low);
}

TEST(LoadPath, SupportsOutOfOnePlaneAreRefused) {
  std::mt19937 random(1);
  Net net = shaken_grid(3, 3, 0.1, true, random);
  net.points[0].z() = 0.2;
  const auto answer = least_load_path(net, random_loads(net, random));
  ASSERT_FALSE(answer.ok());
  EXPECT_NE(answer.faults().front().found.find("out of one plane"), std::string::npos);
}

// A free edge that bulges outward cannot stand in compression; the point named is where it does.
TEST(LoadPath, AnOutwardCornerOfAFreeEdgeIsNamed) {
  Net net;
  for (int j = 0; j <= 2; ++j)
    for (int i = 0; i <= 6; ++i) {
      net.points.emplace_back(i, j, 0);
      net.fixed.push_back(i == 0 || i == 6);
    }
  for (int j = 0; j <= 2; ++j)
    for (int i = 0; i <= 6; ++i) {
      if (i < 6) net.edges.push_back({7 * j + i, 7 * j + i + 1});
      if (j < 2 && i > 0 && i < 6) net.edges.push_back({7 * j + i, 7 * j + 7 + i});
    }
  const std::vector<double> load(net.points.size(), 2.0);
  const auto straight = least_load_path(net, load);
  ASSERT_TRUE(straight.ok()) << describe(straight.faults().front());
  EXPECT_EQ(straight->idle_edges, 10);  // nothing balances a force across at a straight free edge
  net.points[2].y() = -0.3;
  const auto answer = least_load_path(net, load);
  ASSERT_FALSE(answer.ok());
  const Fault& fault = answer.faults().front();
  EXPECT_NE(fault.found.find("(2.000, -0.300)"), std::string::npos) << describe(fault);
  EXPECT_NE(fault.found.find("1.000) to stand"), std::string::npos) << describe(fault);
}

TEST(LoadPath, ALoadThatNothingHoldsIsNamed) {
  Net net = chain(3, 3, {1, 0});
  net.points.emplace_back(5, 5, 0);
  net.fixed.push_back(0);
  const auto answer = least_load_path(net, std::vector<double>(5, 1));
  ASSERT_FALSE(answer.ok());
  EXPECT_NE(answer.faults().front().found.find("(5.000, 5.000)"), std::string::npos);
}

// With give the answer nears the exact one from below as the give goes to nothing.
TEST(LoadPath, GiveOnlyLessens) {
  std::mt19937 random(31);
  const Net net = shaken_grid(6, 4, 0.25, true, random);
  const std::vector<double> load = random_loads(net, random);
  const double exact = found(net, load).path_nm;
  double before = 0;
  for (const double give : {1e-2, 1e-4, 1e-6}) {
    const auto soft = least_load_path(net, load, {.give = give});
    ASSERT_TRUE(soft.ok());
    EXPECT_GT(soft->path_nm, before);
    EXPECT_LT(soft->path_nm, exact);
    before = soft->path_nm;
  }
  EXPECT_NEAR(before, exact, 1e-5 * exact);
}

class FirstForm : public testing::TestWithParam<bool> {};
INSTANTIATE_TEST_SUITE_P(Demos, FirstForm, testing::Bool(),
                         [](const auto& demo) { return demo.param ? "wren_leat" : "drovers_hop"; });

TEST_P(FirstForm, StartsInCompressionNearTheDrawnPlan) {
  const Brief brief = GetParam() ? sample::wren_leat() : sample::drovers_hop();
  const FibreMesh mesh = fibre_mesh(brief.plan, 0.3).value();
  Net net;
  for (std::size_t i = 0; i < mesh.points.size(); ++i) {
    net.points.emplace_back(mesh.points[i].x(), mesh.points[i].y(), 0);
    net.fixed.push_back(mesh.support_of[i] >= 0);
  }
  for (const MeshEdge& e : mesh.edges) net.edges.push_back({e.a, e.b, 0, e.free_edge});
  const std::vector<double> load(net.points.size(), 500.0);
  const auto start = first_form_by_load_path(net, load, mesh.crown, brief.form.rise_m);
  ASSERT_TRUE(start.ok()) << describe(start.faults().front());
  for (const NetEdge& e : start->edges) ASSERT_GT(e.q, 0);
  EXPECT_NEAR(start->points[mesh.meeting].z(), brief.form.rise_m, 1e-9);
  double moved = 0;
  for (std::size_t i = 0; i < net.points.size(); ++i)
    moved = std::max(moved, (start->points[i] - net.points[i]).head<2>().norm());
  EXPECT_LE(moved, 0.1);
}

}  // namespace
}  // namespace skewback
