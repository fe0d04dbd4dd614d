#include "solve/cone_program.hpp"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <cstring>
#include <thread>

#include "solve/block_cholesky.hpp"
#include "solve/cone_iteration.hpp"
#include "solve/sample_blocks.hpp"
#include "solve/sample_cones.hpp"

namespace skewback {
namespace {

using namespace sample;

// By hand: slips at friction, topples at b/h, whichever is less.
TEST(ConeProgram, PushedBlockSlipsOrTopples) {
  for (const double h : {0.5, 1.0, 3.0, 40.0}) {
    const ConeSummary s = solved(pushed_block(1, h, 0.6, 0));
    ASSERT_EQ(s.status, SolveStatus::kOptimal) << s.reason;
    EXPECT_NEAR(s.columns[0], std::min(0.6, 1 / h), 1e-7) << "height " << h;
    EXPECT_LE(s.primal_residual, 1e-8);
    EXPECT_LE(s.gap_rel, 1e-8);
    EXPECT_LE(s.cone_violation, 1e-12);
  }
}

// The cone is round: a low block slips at the same force whatever its bearing; 8 inner rays along
// the sides reach cos(22.5 degrees) of it half-way between two.
TEST(ConeProgram, SlidingIsTheSameInEveryDirection) {
  for (int k = 0; k < 12; ++k) {
    const double bearing = k * 3.14159265358979 / 8;
    const ConeProgram p = pushed_block(1, 0.2, 0.6, bearing);
    const ConeSummary s = solved(p);
    ASSERT_EQ(s.status, SolveStatus::kOptimal) << s.reason;
    EXPECT_NEAR(s.columns[0], 0.6, 1e-7);
    const LpSummary lp = solve(sample::faceted(p, 8, true));
    ASSERT_EQ(lp.status, SolveStatus::kOptimal);
    EXPECT_NEAR(-lp.objective, k % 2 == 0 ? 0.6 : 0.6 * std::cos(3.14159265358979 / 8), 1e-7);
  }
}

// Coulomb: a cube rests on a slope up to tan = friction, here with the slope along its diagonal.
TEST(ConeProgram, CubeOnASlopeSlipsAtTheAngleOfFriction) {
  for (const double over : {-1e-3, 1e-3}) {
    const double slope = std::atan(0.5 + over);
    ConeProgram p = pushed_block(1, 1, 0.5, 0);
    p.columns.clear();
    p.b << -std::sin(slope) / std::sqrt(2), -std::sin(slope) / std::sqrt(2), std::cos(slope), 0, 0,
        0;
    const ConeSummary s = solved(p);
    EXPECT_EQ(s.status, over < 0 ? SolveStatus::kOptimal : SolveStatus::kInfeasible) << s.reason;
    if (over < 0) continue;
    double worst = 0;
    EXPECT_NEAR(power_of(p, s.y, worst), 1, 1e-6);
    EXPECT_LE(worst, 1e-7);
  }
}

/// A wedge of unit weight between two walls that lean back by `lean` from upright.
ConeProgram wedge(double lean, double friction, double sign) {
  ConeProgram p;
  p.nodes = 1;
  for (const double side : {-1.0, 1.0}) {
    p.contacts.push_back(
        on_ground(0, {side, 0, 0}, {-side * std::cos(lean), 0, std::sin(lean)}, friction));
    p.contacts.back().cost[0] = sign;
  }
  p.b.setZero(6);
  p.b[2] = 1;
  return p;
}

// By hand: friction at its limit holds the wedge up (least thrust) or pulls it down (greatest).
TEST(ConeProgram, LeastAndGreatestThrustOfAWedge) {
  const double lean = 0.7, friction = 0.4;
  const double up = 0.5 / (std::sin(lean) + friction * std::cos(lean));
  const double down = 0.5 / (std::sin(lean) - friction * std::cos(lean));
  const ConeSummary least = solved(wedge(lean, friction, 1));
  ASSERT_EQ(least.status, SolveStatus::kOptimal) << least.reason;
  EXPECT_NEAR(least.f[0], up, 1e-7);
  EXPECT_NEAR(least.f[3], up, 1e-7);
  const ConeSummary greatest = solved(wedge(lean, friction, -1));
  ASSERT_EQ(greatest.status, SolveStatus::kOptimal) << greatest.reason;
  EXPECT_NEAR(greatest.objective, -2 * down, 1e-7);
}

// Walls within the angle of friction lock: the thrust has no limit, and the ray shows it.
TEST(ConeProgram, LockedWedgeIsUnboundedWithARay) {
  const ConeProgram p = wedge(0.2, 0.4, -1);
  const ConeSummary s = solved(p);
  ASSERT_EQ(s.status, SolveStatus::kUnbounded) << s.reason;
  EXPECT_FALSE(s.reason.empty());
  VectorX rows = VectorX::Zero(6);
  double cost = 0;
  for (Eigen::Index i = 0; i < 2; ++i) {
    const ConeContact& c = p.contacts[std::size_t(i)];
    const Vec3 f = s.f.segment<3>(3 * i);
    rows += c.on_b * f;
    cost += c.cost.dot(f);
    EXPECT_LE(f.tail<2>().norm(), c.friction * f[0]);
  }
  EXPECT_LT(cost, 0);
  EXPECT_LE(rows.lpNorm<Eigen::Infinity>(), 1e-7 * -cost);
}

// By hand: four points of at most 1/2 carry a weight of 1 and a live load of 1 more.
TEST(ConeProgram, CrushingLimitBinds) {
  ConeProgram p = pushed_block(1, 1, 0.6, 0);
  for (ConeContact& c : p.contacts) c.n_most = 0.5;
  p.columns[0].rows << 0, 0, -1, 0, 0, 0;
  const ConeSummary s = solved(p);
  ASSERT_EQ(s.status, SolveStatus::kOptimal) << s.reason;
  EXPECT_NEAR(s.columns[0], 1, 1e-7);
  // And crushed by dead load alone: a certificate with the limits in it.
  p.columns.clear();
  for (ConeContact& c : p.contacts) c.n_most = 0.24;
  const ConeSummary none = solved(p);
  ASSERT_EQ(none.status, SolveStatus::kInfeasible) << none.reason;
  double worst = 0;
  EXPECT_GT(power_of(p, none.y, worst), 0.5);
  EXPECT_NEAR(none.dual_objective, 1, 1e-6);
}

// A prop without friction under a block on a smooth floor with a wall; by hand from moments.
TEST(ConeProgram, PropsOnlyPush) {
  ConeProgram p;
  p.nodes = 1;
  p.contacts.push_back(on_ground(0, {-1, 0, -1}, Vec3::UnitZ(), 0));
  p.contacts.push_back(on_ground(0, {3, 0, -1}, Vec3::UnitZ(), 0));
  p.b.setZero(6);
  p.b[2] = 1;
  const ConeSummary s = solved(p);
  ASSERT_EQ(s.status, SolveStatus::kOptimal) << s.reason;
  EXPECT_NEAR(s.f[0], 0.75, 1e-8);
  EXPECT_NEAR(s.f[3], 0.25, 1e-8);
  EXPECT_EQ(s.f[1], 0);
  p.b[0] = 0.01;  // nothing can push sideways
  const ConeSummary none = solved(p);
  ASSERT_EQ(none.status, SolveStatus::kInfeasible) << none.reason;
  double worst = 0;
  EXPECT_NEAR(power_of(p, none.y, worst), 1, 1e-6);
  EXPECT_LE(worst, 1e-7);
}

TEST(ConeProgram, LooseBlocksAreInfeasibleUnlessNothingLoadsThem) {
  ConeProgram p = pushed_block(1, 1, 0.6, 0);
  p.nodes = 3;  // 1 has no contact, 2 hangs on it by none either
  p.b.conservativeResizeLike(VectorX::Zero(18));
  p.columns[0].rows.conservativeResizeLike(VectorX::Zero(18));
  const ConeSummary good = solved(p);
  ASSERT_EQ(good.status, SolveStatus::kOptimal) << good.reason;
  EXPECT_NEAR(good.columns[0], 0.6, 1e-7);
  p.b[8] = 1;
  const ConeSummary loose = solved(p);
  ASSERT_EQ(loose.status, SolveStatus::kInfeasible) << loose.reason;
  double worst = 0;
  EXPECT_NEAR(power_of(p, loose.y, worst), 1, 1e-6);
  EXPECT_LE(worst, 1e-7);

  // Two blocks that touch each other and nothing else: pressed together they balance, with a net
  // load they do not.
  ConeProgram q;
  q.nodes = 2;
  for (const double x : {-0.5, 0.5}) {
    for (const double y : {-0.5, 0.5}) {
      ConeContact c = on_ground(1, {x, y, -0.5}, Vec3::UnitZ(), 0.6);
      c.a = 0;
      c.on_a = -columns_at({x, y, 0.5}, Vec3::UnitZ(), Vec3::UnitX(), Vec3::UnitY());
      c.on_b = columns_at({x, y, -0.5}, Vec3::UnitZ(), Vec3::UnitX(), Vec3::UnitY());
      q.contacts.push_back(c);
    }
  }
  q.b.setZero(12);
  q.b[8] = 1;
  q.b[2] = -1;
  EXPECT_EQ(solved(q).status, SolveStatus::kOptimal);
  q.b[2] = 0;
  const ConeSummary apart = solved(q);
  ASSERT_EQ(apart.status, SolveStatus::kInfeasible) << apart.reason;
  EXPECT_NEAR(power_of(q, apart.y, worst), 1, 1e-6);
  EXPECT_LE(worst, 1e-7);
}

// A semicircular arch under its weight needs t/R = 0.1075 with joints anywhere (Milankovitch 1907,
// value from memory); with 60 voussoirs it may stand a trifle thinner.
TEST(ConeProgram, SemicircularArchNeedsTheLeastThickness) {
  const auto arch = [](double t) {
    const int n = 60;
    ConeProgram p;
    p.nodes = n;
    p.b.setZero(6 * n);
    const double pi = 3.14159265358979, in = 1 - t / 2, out = 1 + t / 2;
    const double half = pi / n / 2;
    // centre of gravity of a sector of a ring
    const double r = 2 * (std::pow(out, 3) - std::pow(in, 3)) * std::sin(half) /
                     (3 * half * (out * out - in * in));
    const auto centre = [&](int i) {
      const double a = (2 * i + 1) * half;
      return Vec3(-r * std::cos(a), 0, r * std::sin(a));
    };
    for (int i = 0; i <= n; ++i) {
      const double a = 2 * i * half;
      const Vec3 along(std::sin(a), 0, std::cos(a)), radius(-std::cos(a), 0, std::sin(a));
      for (const double at : {in, out}) {
        for (const double y : {-0.5, 0.5}) {
          const Vec3 point = at * radius + Vec3(0, y, 0);
          ConeContact c;
          c.a = i - 1;
          c.b = i < n ? i : -1;
          c.friction = 2;
          if (c.a >= 0) c.on_a = -columns_at(point - centre(c.a), along, radius, Vec3::UnitY());
          if (c.b >= 0) c.on_b = columns_at(point - centre(c.b), along, radius, Vec3::UnitY());
          p.contacts.push_back(c);
        }
      }
      if (i < n) p.b[6 * i + 2] = 1;
    }
    return p;
  };
  const ConeSummary thick = solved(arch(0.108)), thin = solved(arch(0.106));
  EXPECT_EQ(thick.status, SolveStatus::kOptimal) << thick.reason;
  EXPECT_EQ(thin.status, SolveStatus::kInfeasible) << thin.reason;
  double worst = 0;
  EXPECT_NEAR(power_of(arch(0.106), thin.y, worst), 1, 1e-6);
  EXPECT_LE(worst, 1e-6);
}

/// How far the objective may be off by weak duality: the gap, and what residuals of the rows and of
/// the reduced costs are worth.
double off_at_most(const ConeProgram& p, const ConeSummary& s) {
  VectorX left = p.b - s.columns[0] * p.columns[0].rows;
  double worth = std::abs(s.objective - s.dual_objective);
  for (std::size_t i = 0; i < p.contacts.size(); ++i) {
    const ConeContact& c = p.contacts[i];
    const Eigen::Vector3d f = s.f.segment<3>(3 * static_cast<Eigen::Index>(i));
    Eigen::Vector3d r = c.cost;
    for (const auto& [node, on] : {std::pair{c.a, &c.on_a}, {c.b, &c.on_b}}) {
      if (node < 0) continue;
      left.segment<6>(6 * node) -= *on * f;
      r -= on->transpose() * s.y.segment<6>(6 * node);
    }
    worth += std::max(0.0, c.friction * r.tail<2>().norm() - r[0]) * f[0];
  }
  return worth + left.cwiseProduct(s.y).cwiseAbs().sum();
}

// Without correctors it takes 22 steps, and from x = z = 1 what the residuals are worth is five
// times as much.
TEST(ConeProgram, FewStepsAndARightFactorWhereFrictionGoverns) {
  ConeProgram p = sample::limit_program({.courses = 14, .units = 14, .sail = true}, 0.1, 0.4);
  p.columns[0].upper = 100;
  const ConeSolver solver(p);
  const ConeSummary s = solver.solve({p.nodes, p.contacts, p.columns, p.b});
  ASSERT_EQ(s.status, SolveStatus::kOptimal) << s.reason;
  EXPECT_LE(s.iterations, 18);
  const ConeSummary loose =
      solver.solve({p.nodes, p.contacts, p.columns, p.b}, {.tolerance = 1e-5});
  const ConeOptions same_but_worth{.tolerance = 1e-5, .worth = 0.01 * loose.residual_worth};
  const ConeSummary closer = solver.solve({p.nodes, p.contacts, p.columns, p.b}, same_but_worth);
  EXPECT_EQ(closer.reason, "");
  EXPECT_LE(closer.residual_worth, same_but_worth.worth);
  EXPECT_GT(closer.iterations, loose.iterations) << "else it stops at its gap";
  const double off = off_at_most(p, s);
  EXPECT_LE(off, 5e-8 * s.columns[0]);
  EXPECT_NEAR((s.gap_rel + s.residual_worth) * (1 + std::abs(s.objective)), off, 1e-3 * off);
}

}  // namespace
}  // namespace skewback
