#pragma once
// Private to stand/: the programs behind a verdict and the mechanism in their duals.

#include <optional>
#include <string>

#include "stand/program.hpp"

namespace skewback {

struct LimitTask {
  const Assembly& assembly;
  const LoadCase& load;
  const StandOptions& options;
};

struct Balance {
  bool found = false;   // forces that balance to the last digits
  VectorX f;            // contact forces
  VectorX rows;         // dual, as velocities
  double factor = 0;    // load factor
  double support = 0;   // least added support, mean block weights
  std::string trouble;  // solver's words, when it gave none
};

/// Forces that balance the weight, or a certificate in `rows` that there are none. Where the cone
/// solver cannot tell, faceted cones are asked, `rows` from those outside.
[[nodiscard]] Balance balance_weight(const Program& program, double tolerance);

/// The same without faceted cones and without a certificate: true if forces were found.
[[nodiscard]] bool holds(const Program& program, double tolerance);

/// Least force and moment that must be added to hold the blocks under their weight. Always
/// feasible.
[[nodiscard]] Balance least_support(const Program& program, double tolerance);

/// What a judgement is for: both sides of the limit; forces, a mechanism too where the dual of the
/// forces is none; or the same of the cone solver alone, which may find nothing.
enum class Sought { kBothSides, kForces, kQuickly };

/// Views of one case by the limit alone, faceted cones never asked.
[[nodiscard]] CaseProof limit_quickly(const Assembly& assembly, const LoadCase& load,
                                      const StandOptions& options);

/// Largest load factor up to the cap. With `dead`, forces that balance the weight alone, the
/// equilibrium is then put right to the last digits; without, only the dual is of use. Asks faceted
/// cones where the cone solver stops short, unless quickly.
[[nodiscard]] Balance largest_factor(const Program& program, const VectorX& dead, double cap,
                                     double tolerance, Sought sought = Sought::kBothSides);

/// least_friction on a graph that cases share.
[[nodiscard]] std::optional<double> least_friction_on(const Graph* graph, const LimitTask& task,
                                                      double load_factor, double near, double most);

/// The mechanism in dual rows, if it holds for the true Coulomb cone. `at`: the load factor it must
/// prove; without one, the least that it does prove. None where the check fails.
[[nodiscard]] std::optional<Mechanism> mechanism_from(const LimitTask& task, const Program& program,
                                                      const Balance& balance,
                                                      std::optional<double> at);

}  // namespace skewback
