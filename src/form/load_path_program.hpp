#pragma once
// Private to form/: the two programs behind least_load_path.

#include <vector>

#include "form/force_density.hpp"
#include "solve/solve.hpp"

namespace skewback {

/// minimise c'q + p' K(q)^-1 p  over q >= 0 with A q = 0,  K(q) = B diag(q) B'.
/// Its dual: maximise 2 p'z  with  (B'z)_e^2 <= c_e + (A'u)_e  for every edge.
/// With give > 0 points need not balance in plan: |A q|^2 / (2 give) is added to what is minimised,
/// give |u|^2 / 2 taken from what is maximised, and A q = give u.
struct PathProgram {
  SparseMatrix B;   // free points x edges: +1 at the edge's a, -1 at its b
  SparseMatrix A;   // 2 free points x edges: plan vector from the neighbour to the point
  VectorX c;        // squared length of the edge on the plane of the supports
  VectorX p;        // downward loads
  double give = 0;  // see below
};

struct PathAnswer {
  VectorX q, z, u;
  int iterations = 0;
  bool converged = false;
};

/// Primal-dual interior point on the dual, with predictor and corrector (Mehrotra 1992). Needs some
/// q > 0 with A q = 0 (unless points may give) and K(q) regular, and numbers of the order of one.
[[nodiscard]] PathAnswer solve_path(const PathProgram& program, double tolerance,
                                    int max_iterations);

/// c'q + sum q (B'z)^2, and twice p'z after z and u are drawn in until they are feasible, each with
/// its term of give.
struct PathValue {
  double path = 0, bound = 0;
};
[[nodiscard]] PathValue value_of(const PathProgram& program, const PathAnswer& answer);

/// Edges that can carry force: there is a state of compression, in balance in plan at every free
/// point, with force in all of them, and none with force in any other. Empty if the linear program
/// was not solved.
[[nodiscard]] std::vector<char> edges_that_can_carry(const Net& net);

/// Sideways forces, least in sum, that must help at the free points so that compression can hold
/// the loads over this plan. Empty if the linear program was not solved.
[[nodiscard]] std::vector<Vec2> sideways_help(const Net& net, const std::vector<double>& downward);

}  // namespace skewback
