#include "stand/limit.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "stand/mechanism.hpp"
#include "stand/polish.hpp"

namespace skewback {

namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr double kResidualLimit = 1e-9;  // equilibrium, of the mean block weight
constexpr double kResidualAim = 1e-12;
constexpr double kResistance = 1e-9;  // of the greatest speed, left in a mechanism by rounding
constexpr double kWorkMargin = 1e-6;  // relative: what a mechanism must beat rounding by

VectorX joined(const VectorX& a, const VectorX& b) {
  VectorX c(a.size() + b.size());
  c << a, b;
  return c;
}

SparseMatrix with_columns(const SparseMatrix& A, const SparseMatrix& B) {
  SparseMatrix C(A.rows(), A.cols() + B.cols());
  C.leftCols(A.cols()) = A;
  C.rightCols(B.cols()) = B;
  return C;
}

/// Puts the equilibrium right just under the factor reached, drawing back towards the dead-load
/// state until that can be done to the last digits.
void settle(const Program& p, const VectorX& dead, Balance& balance) {
  const VectorX x = balance.x;
  const double factor = balance.factor;
  double least = kResidualLimit;
  for (const double back : {0.0, 1e-10, 1e-9, 1e-8, 1e-7}) {
    const double reached = (1 - back) * factor;
    VectorX moved = (1 - back) * x + back * dead;
    const double residual = polish_forces(p.A, -p.weight - reached * p.live, moved);
    if (residual >= least) continue;
    least = residual;
    balance.found = true;
    balance.x = moved;
    balance.factor = reached;
    if (residual <= kResidualAim) return;
  }
}

/// Sum of the sizes of all loads, N.
double load_sum(const Program& p, double factor) {
  double sum = 0;
  for (Eigen::Index i = 0; i < p.weight.size(); i += 6) {
    sum += (p.weight.segment<3>(i) + factor * p.live.segment<3>(i)).norm();
  }
  return sum * p.force_unit;
}

}  // namespace

Balance least_support(const Program& p, double tolerance) {
  const Eigen::Index m = p.A.rows(), n = p.A.cols();
  SparseMatrix I(m, m);
  I.setIdentity();
  LinearProgram lp;
  lp.A = with_columns(p.A, with_columns(I, -I));
  lp.b = -p.weight;
  lp.c = joined(VectorX::Zero(n), VectorX::Ones(2 * m));
  lp.lower = VectorX::Zero(n + 2 * m);
  lp.upper = VectorX::Constant(n + 2 * m, kInfinity);
  const LpSummary s = solve(lp, {.tolerance = tolerance});
  Balance balance;
  if (s.status != SolveStatus::kOptimal) {
    balance.trouble = s.reason;
    return balance;
  }
  balance.support = s.objective;
  balance.x = s.x.head(n);
  balance.rows = -s.y;
  VectorX polished = balance.x;
  if (s.objective <= 1e-5 * static_cast<double>(p.blocks.size()) &&
      polish_forces(p.A, lp.b, polished) <= kResidualLimit) {
    balance.found = true;
    balance.x = polished;
  }
  return balance;
}

Balance largest_factor(const Program& p, const VectorX& dead, double cap, double tolerance) {
  const Eigen::Index n = p.A.cols();
  LinearProgram lp;
  lp.A = with_columns(p.A, p.live.sparseView());
  lp.b = -p.weight;
  lp.c = joined(VectorX::Zero(n), VectorX::Constant(1, -1));
  lp.lower = VectorX::Zero(n + 1);
  lp.upper = joined(VectorX::Constant(n, kInfinity), VectorX::Constant(1, cap));
  const LpSummary s = solve(lp, {.tolerance = tolerance});
  Balance balance;
  if (s.status != SolveStatus::kOptimal) {
    balance.trouble = s.reason;
    return balance;
  }
  balance.x = s.x.head(n);
  balance.factor = s.x[n];
  balance.rows = -s.y;
  if (dead.size() == n) settle(p, dead, balance);
  return balance;
}

std::optional<Mechanism> mechanism_from(const Question& q, const Program& p, const Balance& balance,
                                        std::optional<double> at) {
  if (balance.rows.size() == 0) return std::nullopt;
  const std::vector<Contact> everywhere = contacts_of(q.assembly, q.options);
  for (const bool polished : {true, false}) {
    const VectorX rows = polished ? polish_mechanism(p.A, balance.x, balance.rows) : balance.rows;
    Mechanism m;
    m.blocks = velocities_of(q.assembly, p, rows);
    const double resists = resistance(everywhere, m.blocks);
    if (resists > kResistance) continue;
    const Power power = power_of(q.assembly, q.load, q.options, m.blocks);
    if (at) {
      m.load_factor = *at;
    } else {
      if (power.live <= 0) continue;
      const double balance_at = -power.weight / power.live;
      m.load_factor = balance_at + kWorkMargin * std::max(std::abs(balance_at), kWorkMargin);
    }
    m.work = power.weight + m.load_factor * power.live;
    const double explained = std::max(resists, 1e-12) * load_sum(p, m.load_factor);
    if (m.work > explained) return m;
  }
  return std::nullopt;
}

}  // namespace skewback
