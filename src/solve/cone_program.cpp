#include "solve/cone_program.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <utility>

#include "base/memory.hpp"
#include "base/timing.hpp"
#include "solve/block_cholesky.hpp"
#include "solve/cone_data.hpp"
#include "solve/cone_iteration.hpp"

namespace skewback {

namespace {

std::vector<std::array<int, 2>> pairs_of(const ConeProgramView& program) {
  std::vector<std::array<int, 2>> pairs;
  for (const ConeContact& c : program.contacts) pairs.push_back({c.a, c.b});
  return pairs;
}

constexpr double kCloser = 0.3;
constexpr std::size_t kLarge = 50000;  // contacts: some 50 MB of iterate and factor

std::string number(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.1e", value);
  return text;
}

double worst_of(const ConeProgramView& program, const ConeOptions& options,
                const ConeSummary& out) {
  const double b = program.b.size() > 0 ? program.b.lpNorm<Eigen::Infinity>() : 0.0;
  return std::max({out.primal_residual, out.dual_violation, out.gap_rel,
                   out.cone_violation / (1 + b),
                   out.residual_worth * options.tolerance / options.worth});
}

/// The status the measures of the answer allow.
void judge(const ConeProgramView& program, const ConeOptions& options, ConeSummary& out) {
  const double worst = worst_of(program, options, out);
  if (worst <= options.tolerance) {
    out.status = SolveStatus::kOptimal;
    out.reason.clear();
  } else if (worst <= options.acceptable) {
    out.status = SolveStatus::kOptimal;
    out.reason = "reached " + number(worst) + " of " + number(options.tolerance) + " asked for";
  } else {
    out.status = SolveStatus::kFailed;
    if (out.reason.empty()) out.reason = "the answer fails the check of residuals";
    out.reason += " (reached " + number(worst) + ")";
  }
}

/// Scales a certificate or a ray to 1 and lets it pass only if its measures do.
void judge_proof(const ConeProgramView& program, const ConeOptions& options, ConeSummary& out) {
  const bool falls = out.status == SolveStatus::kInfeasible;
  const double size = falls ? out.dual_objective : -out.objective;
  if (size > 0) {
    (falls ? out.y : out.f) /= size;
    if (!falls) out.columns /= size;
    measure(program, out);
  }
  const double worst =
      falls ? out.dual_violation : std::max(out.primal_residual, out.cone_violation);
  if (size > 0 && worst <= options.acceptable) {
    out.reason =
        falls ? "no forces in the cones balance the loads" : "the objective has no lower limit";
    return;
  }
  out.status = SolveStatus::kFailed;
  out.reason = std::string(falls ? "a certificate" : "a ray") + " that fails the check (reached " +
               number(worst) + ")";
  measure(program, out);
}

/// A row with a load and no unknown: a certificate at sight, where the matrix would be singular.
bool loaded_without_hold(const ConeProgramView& program, ConeSummary& out) {
  std::vector<char> held(static_cast<std::size_t>(program.b.size()), 0);
  const auto hold = [&](int node, const Eigen::Matrix<double, 6, 3>& on, double friction) {
    for (int r = 0; node >= 0 && r < 6; ++r) {
      const double size = friction > 0 ? on.row(r).cwiseAbs().maxCoeff() : std::abs(on(r, 0));
      if (size > 0) held[static_cast<std::size_t>(6 * node + r)] = 1;
    }
  };
  for (const ConeContact& c : program.contacts) {
    hold(c.a, c.on_a, c.friction);
    hold(c.b, c.on_b, c.friction);
  }
  for (Eigen::Index i = 0; i < program.b.size(); ++i) {
    if (program.b[i] == 0 || held[static_cast<std::size_t>(i)]) continue;
    const auto reaches = [&](const ConeColumn& c) { return c.rows[i] != 0; };
    if (std::any_of(program.columns.begin(), program.columns.end(), reaches)) continue;
    out.status = SolveStatus::kInfeasible;
    out.reason = "nothing can hold row " + std::to_string(i % 6) + " of node " +
                 std::to_string(i / 6) + ", which is loaded";
    out.f.setZero(3 * static_cast<Eigen::Index>(program.contacts.size()));
    out.columns.setZero(static_cast<Eigen::Index>(program.columns.size()));
    out.y.setZero(program.b.size());
    out.y[i] = 1 / program.b[i];
    measure(program, out);
    return true;
  }
  return false;
}

}  // namespace

struct ConeSolver::State {
  std::shared_ptr<const BlockPattern> pattern;
};

ConeSolver::ConeSolver(int nodes, const std::vector<std::array<int, 2>>& pairs)
    : state_(std::make_unique<State>()) {
  std::vector<std::array<int, 2>> valid;
  for (const auto& [a, b] : pairs) {
    if (a >= 0 && b >= 0 && a != b && a < nodes && b < nodes) valid.push_back({a, b});
  }
  state_->pattern = analyse(nodes, valid);
}
ConeSolver::ConeSolver(const ConeProgramView& program)
    : ConeSolver(program.nodes, pairs_of(program)) {}
ConeSolver::ConeSolver(std::shared_ptr<const BlockPattern> pattern)
    : state_(std::make_unique<State>(State{std::move(pattern)})) {}
ConeSolver::~ConeSolver() = default;
ConeSolver::ConeSolver(ConeSolver&&) noexcept = default;
ConeSolver& ConeSolver::operator=(ConeSolver&&) noexcept = default;

ConeSummary ConeSolver::solve(const ConeProgramView& program, const ConeOptions& options) const {
  const Stopwatch clock;
  ConeSummary out;
  const BlockPattern& pattern = *state_->pattern;
  out.reason = fault_of(program, pattern);
  if (!out.reason.empty()) return out;
  if (loaded_without_hold(program, out)) {
    out.seconds = clock.seconds();
    return out;
  }
  const ConeData data = scaled(program, pattern);
  if (program.contacts.size() > kLarge) give_back_freed_memory();
  ConeOptions inside = options;  // our units are not the caller's: aim a little closer
  inside.tolerance = kCloser * options.tolerance;
  inside.worth = kCloser * options.worth;
  ConeAnswer answer = iterate(data, state_->pattern, inside, best_kernels());
  if (answer.status == SolveStatus::kFailed && answer.worst > options.acceptable) {
    ConeAnswer plain = iterate(data, state_->pattern, inside, best_kernels(), false);
    plain.iterations += answer.iterations;
    if (plain.status != SolveStatus::kFailed || plain.worst < answer.worst) {
      answer = std::move(plain);
    }
  }
  out.iterations = answer.iterations;
  out.reason = std::move(answer.reason);
  out.status = answer.status;
  if (answer.x.size() == 0 && data.packs() > 0) return out;
  original(program, pattern, data, answer.x.data(), answer.scalars, answer.y.data(), out);
  measure(program, out);
  if (out.status == SolveStatus::kInfeasible || out.status == SolveStatus::kUnbounded) {
    judge_proof(program, options, out);
  } else {
    judge(program, options, out);
  }
  out.seconds = clock.seconds();
  return out;
}

}  // namespace skewback
