#pragma once
// Equilibrium of rigid blocks under Coulomb friction as a second-order cone program: the true cone,
// no facets. One symbolic analysis serves all programs on the same graph of blocks.

#include <array>
#include <limits>
#include <memory>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "solve/solve.hpp"

namespace skewback {

class BlockPattern;

/// A contact point. Unknown: its force f = (n, t1, t2) in axes of its own.
struct ConeContact {
  int a = -1, b = -1;  // nodes (free blocks); -1: the ground, or nothing
  Eigen::Matrix<double, 6, 3> on_a = Eigen::Matrix<double, 6, 3>::Zero();  // its columns in the six
  Eigen::Matrix<double, 6, 3> on_b = Eigen::Matrix<double, 6, 3>::Zero();  // rows of a and of b
  double friction = 0.6;  // |t| <= friction n, n >= 0; 0: t = 0, it only pushes
  double n_most = std::numeric_limits<double>::infinity();  // n <= n_most, > 0
  Eigen::Vector3d cost = Eigen::Vector3d::Zero();           // of (n, t1, t2)
};

/// A scalar unknown with entries in any rows: a load factor, the force of a tie, a support.
struct ConeColumn {
  VectorX rows;  // 6 x nodes
  double cost = 0;
  double lower = 0;  // finite or -infinity
  double upper = std::numeric_limits<double>::infinity();
};

/// minimise  cost  subject to  sum of on_a f, on_b f and rows x = b,  every contact in its cone.
/// Rows in units the caller chose, best so that block weights and lever arms are near 1.
struct ConeProgram {
  int nodes = 0;
  std::vector<ConeContact> contacts;
  std::vector<ConeColumn> columns;
  VectorX b;  // 6 x nodes
};

/// The same, of contacts and columns that lie elsewhere and stay there while it is used.
struct ConeProgramView {
  ConeProgramView(int node_count, std::span<const ConeContact> all_contacts,
                  std::span<const ConeColumn> all_columns, VectorX right)
      : nodes(node_count), contacts(all_contacts), columns(all_columns), b(std::move(right)) {}
  ConeProgramView(const ConeProgram& program)  // NOLINT: a program is meant to pass for one
      : ConeProgramView(program.nodes, program.contacts, program.columns, program.b) {}

  int nodes = 0;
  std::span<const ConeContact> contacts;
  std::span<const ConeColumn> columns;
  VectorX b;
};

struct ConeOptions {
  double tolerance = 1e-8;   // relative: residuals and gap; where it stops
  double worth = 1e-5;       // the same for residual_worth
  double acceptable = 1e-6;  // still called optimal when it can go no further (stated in `reason`)
  int max_iterations = 100;
};

/// Measures are recomputed from the program as given, not taken from the iteration.
struct ConeSummary {
  SolveStatus status = SolveStatus::kFailed;
  std::string reason;  // in words; empty when optimal to the tolerance
  VectorX f;           // 3 per contact: n, t1, t2. A ray (A f = 0, cost < 0) when unbounded
  VectorX columns;     // one per column, likewise
  /// Per row. With r = cost - A'y of a contact: r lies in the dual cone { friction |r_t| <= r_n },
  /// where n_most is finite after v = max(0, friction |r_t| - r_n) is added to r_n. Infeasible: a
  /// certificate, -A'y in the dual cones (in that sense) and dual_objective > 0, scaled to 1; the
  /// measures of f then say nothing, as do those of y when unbounded.
  VectorX y;
  double objective = 0;
  double dual_objective = 0;   // b'y - sum of n_most v, and the like of bounds of columns
  double primal_residual = 0;  // max |A f - b| / (1 + max |b|); unbounded: max |A f| / -cost
  double cone_violation = 0;   // of contacts and bounds, absolute
  double dual_violation = 0;   // max over contacts and columns, / (1 + max |cost|)
  double gap_rel = 0;          // |objective - dual_objective| / (1 + |objective|)
  /// What residuals and dual violation, each within tolerance, are together worth of the objective:
  /// to first order, by the answer's own f, columns and y; sum of sizes, / (1 + |objective|). With
  /// the gap: how far the objective may be off.
  double residual_worth = 0;
  int iterations = 0;
  double seconds = 0;
};

/// Homogeneous self-dual interior point (Nesterov and Todd 1997; Vandenberghe 2010), predictor and
/// corrector of Mehrotra. Immutable: solve() may be called from several threads at once.
class ConeSolver {
 public:
  /// pairs: nodes that share a contact, or both entries of a sparse column. Entries with -1 or
  /// a == b are ignored.
  ConeSolver(int nodes, const std::vector<std::array<int, 2>>& pairs);
  explicit ConeSolver(const ConeProgramView& program);               // of its contacts
  explicit ConeSolver(std::shared_ptr<const BlockPattern> pattern);  // of such pairs, by analyse()
  ~ConeSolver();
  ConeSolver(ConeSolver&&) noexcept;
  ConeSolver& operator=(ConeSolver&&) noexcept;

  /// The program must have the solver's number of nodes and no contact outside its pairs; else it
  /// ends as kFailed with the reason.
  [[nodiscard]] ConeSummary solve(const ConeProgramView& program,
                                  const ConeOptions& options = {}) const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace skewback
