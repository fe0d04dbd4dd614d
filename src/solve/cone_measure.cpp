#include <algorithm>
#include <cmath>
#include <limits>

#include "solve/cone_data.hpp"

namespace skewback {

namespace {

Eigen::Vector3d reduced_cost(const ConeContact& c, const Eigen::Vector3d& cost, const VectorX& y) {
  Eigen::Vector3d r = cost;
  if (c.a >= 0) r -= c.on_a.transpose() * y.segment<6>(6 * c.a);
  if (c.b >= 0) r -= c.on_b.transpose() * y.segment<6>(6 * c.b);
  return r;
}

/// What the bounds of x add to the dual objective for its reduced cost r; what no bound takes is a
/// violation.
double bound_value(double r, double lower, double upper, double& violation) {
  const double at = r >= 0 ? lower : upper;
  if (std::isfinite(at)) return r * at;
  violation = std::max(violation, std::abs(r));
  return 0;
}

}  // namespace

void measure(const ConeProgramView& program, ConeSummary& out) {
  const bool certificate = out.status == SolveStatus::kInfeasible;
  const bool ray = out.status == SolveStatus::kUnbounded;
  VectorX left = ray ? VectorX::Zero(program.b.size()) : program.b;
  double cost_most = 0, violation = 0, worth = 0;
  out.objective = out.cone_violation = 0;
  out.dual_objective = program.b.dot(out.y);
  for (std::size_t i = 0; i < program.contacts.size(); ++i) {
    const ConeContact& c = program.contacts[i];
    const Eigen::Vector3d f = out.f.segment<3>(3 * static_cast<Eigen::Index>(i));
    if (c.a >= 0) left.segment<6>(6 * c.a) -= c.on_a * f;
    if (c.b >= 0) left.segment<6>(6 * c.b) -= c.on_b * f;
    out.objective += c.cost.dot(f);
    const double most = ray && std::isfinite(c.n_most) ? 0 : c.n_most;
    out.cone_violation =
        std::max({out.cone_violation, -f[0], f[0] - most, f.tail<2>().norm() - c.friction * f[0]});
    const Eigen::Vector3d cost = certificate ? Eigen::Vector3d::Zero() : c.cost;
    const Eigen::Vector3d r = reduced_cost(c, cost, out.y);
    const double need = std::max(0.0, c.friction * r.tail<2>().norm() - r[0]);
    out.dual_objective += bound_value(-need, 0, c.n_most, violation);
    if (!std::isfinite(c.n_most)) worth += need * std::abs(f[0]);
    cost_most = std::max(cost_most, cost.lpNorm<Eigen::Infinity>());
  }
  for (std::size_t i = 0; i < program.columns.size(); ++i) {
    const ConeColumn& c = program.columns[i];
    const double x = out.columns[static_cast<Eigen::Index>(i)];
    left -= x * c.rows;
    out.objective += c.cost * x;
    const double lower = ray && std::isfinite(c.lower) ? 0 : c.lower;
    const double upper = ray && std::isfinite(c.upper) ? 0 : c.upper;
    out.cone_violation = std::max({out.cone_violation, lower - x, x - upper});
    const double cost = certificate ? 0 : c.cost;
    const double r = cost - c.rows.dot(out.y);
    out.dual_objective += bound_value(r, c.lower, c.upper, violation);
    if (!std::isfinite(r >= 0 ? c.lower : c.upper)) worth += std::abs(r * x);
    cost_most = std::max(cost_most, std::abs(cost));
  }
  const auto largest = [](const VectorX& v) {
    return v.size() > 0 ? v.lpNorm<Eigen::Infinity>() : 0.0;
  };
  out.primal_residual =
      largest(left) / (ray ? std::max(-out.objective, 1e-300) : 1 + largest(program.b));
  worth += left.cwiseProduct(out.y).cwiseAbs().sum();
  out.residual_worth = worth / (1 + std::abs(out.objective));
  out.dual_violation = violation / (1 + cost_most);
  out.gap_rel = std::abs(out.objective - out.dual_objective) / (1 + std::abs(out.objective));
  if (ray) {
    out.dual_objective = -std::numeric_limits<double>::infinity();
    out.gap_rel = out.dual_violation = out.residual_worth = 0;
  }
  if (certificate) {
    out.objective = std::numeric_limits<double>::infinity();
    out.gap_rel = out.primal_residual = out.cone_violation = out.residual_worth = 0;
  }
}

}  // namespace skewback
