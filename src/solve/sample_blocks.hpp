#pragma once
// For tests only: small cone programs of blocks, and a check of proofs that shares nothing with the
// solver.

#include <Eigen/Geometry>
#include <cmath>
#include <limits>

#include "solve/cone_program.hpp"

namespace skewback::sample {

using Vec3 = Eigen::Vector3d;
inline constexpr double kInf = std::numeric_limits<double>::infinity();

inline ConeSummary solved(const ConeProgram& program, const ConeOptions& options = {}) {
  return ConeSolver(program).solve(program, options);
}

inline Eigen::Matrix<double, 6, 3> columns_at(const Vec3& arm, const Vec3& n, const Vec3& t1,
                                              const Vec3& t2) {
  Eigen::Matrix<double, 6, 3> columns;
  columns << n, t1, t2, arm.cross(n), arm.cross(t1), arm.cross(t2);
  return columns;
}

/// A contact of the ground with node b; n pushes the node.
inline ConeContact on_ground(int b, const Vec3& arm, const Vec3& n, double friction) {
  ConeContact c;
  c.b = b;
  c.friction = friction;
  const Vec3 t1 = n.unitOrthogonal();
  c.on_b = columns_at(arm, n, t1, n.cross(t1));
  return c;
}

/// A block of unit weight on level ground, its sides along x and y, pushed at its centre.
inline ConeProgram pushed_block(double b, double h, double friction, double bearing) {
  ConeProgram p;
  p.nodes = 1;
  for (const double x : {-b / 2, b / 2}) {
    for (const double y : {-b / 2, b / 2}) {
      p.contacts.push_back(on_ground(0, {x, y, -h / 2}, Vec3::UnitZ(), friction));
    }
  }
  p.b.setZero(6);
  p.b[2] = 1;
  p.columns.resize(1);
  p.columns[0].cost = -1;
  p.columns[0].rows.setZero(6);
  p.columns[0].rows.head<3>() << std::cos(bearing), std::sin(bearing), 0;
  return p;
}

/// y balances no admissible force but gives the loads power: nothing can be in equilibrium.
/// Returns the power; `worst` the largest breach of the dual cones.
inline double power_of(const ConeProgram& p, const VectorX& y, double& worst) {
  double power = p.b.dot(y);
  worst = 0;
  for (const ConeContact& c : p.contacts) {
    Vec3 r = Vec3::Zero();
    if (c.a >= 0) r -= c.on_a.transpose() * y.segment<6>(6 * c.a);
    if (c.b >= 0) r -= c.on_b.transpose() * y.segment<6>(6 * c.b);
    const double breach = std::max(0.0, c.friction * r.tail<2>().norm() - r[0]);
    if (std::isinf(c.n_most)) {
      worst = std::max(worst, breach);
    } else {
      power -= breach * c.n_most;
    }
  }
  for (const ConeColumn& c : p.columns) {
    const double r = -c.rows.dot(y);
    if (std::isinf(c.lower))
      worst = std::max(worst, r);
    else
      power += std::max(r, 0.0) * c.lower;
    if (std::isinf(c.upper))
      worst = std::max(worst, -r);
    else
      power += std::min(r, 0.0) * c.upper;
  }
  return power;
}

}  // namespace skewback::sample
