#include "stand/limit.hpp"

#include <algorithm>
#include <cmath>

#include "stand/facets.hpp"
#include "stand/mechanism.hpp"
#include "stand/polish.hpp"

namespace skewback {

namespace {

constexpr double kResidualLimit = 1e-9;  // equilibrium, of the mean block weight
constexpr double kResidualAim = 1e-11;
constexpr double kResistance = 1e-9;  // of the greatest speed, left in a mechanism by rounding
constexpr double kWorkMargin = 1e-6;  // relative: what a mechanism must beat rounding by

/// Puts the equilibrium right just under the factor reached, drawing back towards the dead-load
/// state until that can be done to the last digits.
void settle(const Program& p, const VectorX& dead, Balance& balance) {
  const VectorX f = balance.f;
  const double factor = balance.factor;
  double least = kResidualLimit;
  for (const double back : {0.0, 1e-10, 1e-9, 1e-8, 1e-7, 1e-6}) {
    const double reached = (1 - back) * factor;
    VectorX moved = (1 - back) * f + back * dead;
    const double residual = polish_forces(p, -p.weight - reached * p.live, moved);
    if (residual >= least) continue;
    least = residual;
    balance.found = true;
    balance.f = moved;
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

namespace {

ConeSummary feasible(const Program& p, double tolerance) {
  return p.graph.solver->solve({static_cast<int>(p.blocks.size()), p.cones, {}, -p.weight},
                               {.tolerance = tolerance});
}

/// Takes f if it can be put right to the last digits.
bool take(const Program& p, const VectorX& f, Balance& balance) {
  VectorX polished = f;
  if (f.size() == 0 || polish_forces(p, -p.weight, polished) > kResidualLimit) return false;
  balance.found = true;
  balance.f = std::move(polished);
  return true;
}

constexpr int kRaysLeast = 8, kRaysMost = 64;

}  // namespace

bool holds(const Program& p, double tolerance) {
  Balance balance;
  const ConeSummary s = feasible(p, tolerance);
  return s.status != SolveStatus::kInfeasible && take(p, s.f, balance);
}

Balance balance_weight(const Program& p, double tolerance) {
  Balance balance;
  if (p.blocks.empty()) {
    balance.found = true;
    balance.f = VectorX::Zero(3 * static_cast<Eigen::Index>(p.cones.size()));
    return balance;
  }
  const ConeSummary s = feasible(p, tolerance);
  if (s.status != SolveStatus::kInfeasible && take(p, s.f, balance)) return balance;
  if (s.status == SolveStatus::kInfeasible) {
    balance.rows = -s.y;
    balance.support = 1;
    return balance;
  }
  balance.trouble = s.reason;
  for (int rays = kRaysLeast; rays <= kRaysMost; rays *= 2) {
    const Balance inner = faceted_support(p, Facets::kInner, rays, tolerance);
    balance.support = inner.support;
    if (take(p, inner.f, balance)) return balance;
    const Balance outer = faceted_support(p, Facets::kOuter, rays, tolerance);
    balance.f = outer.f;
    balance.rows = outer.rows;
    if (outer.support > 1e-9) return balance;  // no better inside: the outer cone does not hold
  }
  return balance;
}

Balance least_support(const Program& p, double tolerance) {
  // Three cones (s, u, v), |(u, v)| <= s, push each block along pairs of its six rows at cost s.
  ConeProgram program{static_cast<int>(p.blocks.size()), p.cones, {}, -p.weight};
  for (int node = 0; node < program.nodes; ++node) {
    for (int pair = 0; pair < 3; ++pair) {
      ConeContact support;
      support.b = node;
      support.friction = 1;
      support.on_b(2 * pair, 1) = support.on_b(2 * pair + 1, 2) = 1;
      support.cost[0] = 1;
      program.contacts.push_back(support);
    }
  }
  const ConeSummary s = p.graph.solver->solve(program, {.tolerance = tolerance});
  Balance balance;
  if (s.status != SolveStatus::kOptimal) {
    balance.trouble = s.reason;
    return balance;
  }
  balance.support = s.objective;
  balance.f = s.f.head(3 * static_cast<Eigen::Index>(p.cones.size()));
  balance.rows = -s.y;
  VectorX polished = balance.f;
  if (s.objective <= 1e-5 * static_cast<double>(p.blocks.size()) &&
      polish_forces(p, program.b, polished) <= kResidualLimit) {
    balance.found = true;
    balance.f = polished;
  }
  return balance;
}

Balance largest_factor(const Program& p, const VectorX& dead, double cap, double tolerance,
                       Sought sought) {
  const ConeColumn live{p.live, -1, 0, cap};
  const ConeSummary s =
      p.graph.solver->solve({static_cast<int>(p.blocks.size()), p.cones, {&live, 1}, -p.weight},
                            {.tolerance = tolerance});
  Balance balance;
  const bool close = s.status == SolveStatus::kOptimal && s.reason.empty();
  if (s.status == SolveStatus::kOptimal) {
    balance.f = s.f;
    balance.factor = s.columns[0];
    balance.rows = -s.y;
    if (dead.size() == s.f.size()) settle(p, dead, balance);
  }
  if (sought == Sought::kQuickly) return balance;
  if (close && balance.found) return balance;
  Balance inner = faceted_factor(p, Facets::kInner, kRaysLeast, cap, tolerance);
  if (dead.size() == inner.f.size()) settle(p, dead, inner);
  if (inner.found && (!balance.found || inner.factor > balance.factor)) balance = inner;
  if (!balance.found) balance.trouble = s.reason;
  return balance;
}

std::optional<Mechanism> mechanism_from(const LimitTask& q, const Program& p,
                                        const Balance& balance, std::optional<double> at) {
  if (balance.rows.size() == 0) return std::nullopt;
  const std::vector<Contact> everywhere = contacts_of(q.assembly, q.options);
  for (const bool polished : {true, false}) {
    const VectorX rows = polished ? polish_mechanism(p, balance.f, balance.rows) : balance.rows;
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
