#include "solve/cone_program.hpp"

#include <algorithm>
#include <cstdio>
#include <utility>

#include "base/timing.hpp"
#include "solve/block_cholesky.hpp"
#include "solve/cone_data.hpp"
#include "solve/cone_iteration.hpp"

namespace skewback {

namespace {

std::vector<std::array<int, 2>> pairs_of(const ConeProgram& program) {
  std::vector<std::array<int, 2>> pairs;
  for (const ConeContact& c : program.contacts) pairs.push_back({c.a, c.b});
  return pairs;
}

std::string number(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.1e", value);
  return text;
}

/// The status the measures of the answer allow.
void judge(const ConeOptions& options, ConeSummary& out) {
  const double worst =
      std::max({out.primal_residual, out.dual_violation, out.gap_rel, out.cone_violation});
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
ConeSolver::ConeSolver(const ConeProgram& program) : ConeSolver(program.nodes, pairs_of(program)) {}
ConeSolver::~ConeSolver() = default;
ConeSolver::ConeSolver(ConeSolver&&) noexcept = default;
ConeSolver& ConeSolver::operator=(ConeSolver&&) noexcept = default;

ConeSummary ConeSolver::solve(const ConeProgram& program, const ConeOptions& options) const {
  const Stopwatch clock;
  ConeSummary out;
  const BlockPattern& pattern = *state_->pattern;
  out.reason = fault_of(program, pattern);
  if (!out.reason.empty()) return out;
  const ConeData data = scaled(program, pattern);
  ConeOptions inside = options;  // our units are not the caller's: aim a little closer
  inside.tolerance = 0.3 * options.tolerance;
  ConeAnswer answer = iterate(data, state_->pattern, inside, best_kernels());
  out.iterations = answer.iterations;
  out.reason = std::move(answer.reason);
  out.status = answer.status;
  if (answer.x.size() == 0 && data.packs() > 0) return out;
  original(program, pattern, data, answer.x.data(), answer.scalars, answer.y.data(), out);
  measure(program, out);
  if (out.status == SolveStatus::kInfeasible && out.dual_objective > 0) {
    out.reason = "no forces in the cones balance the loads";
    out.y /= out.dual_objective;
    measure(program, out);
  } else if (out.status == SolveStatus::kUnbounded && out.objective < 0) {
    out.reason = "the objective has no lower limit";
    out.f /= -out.objective;
    out.columns /= -out.objective;
    measure(program, out);
  } else {
    judge(options, out);
  }
  out.seconds = clock.seconds();
  return out;
}

}  // namespace skewback
