#include <cmath>
#include <limits>

#include "stand/friction_trial.hpp"
#include "stand/polish.hpp"
#include "stand/stand.hpp"

namespace skewback {
namespace {

constexpr double kBalanced = 1e-9;  // of the mean block weight

struct Extreme {
  double value = 0;  // N; infinite where nothing bounds it
  Forces forces;
};

/// Least of sign x the sum, with forces that balance to the last digits.
std::optional<Extreme> extreme(const Program& program, const ConeProgram& cones, double sign,
                               double load_factor, double tolerance) {
  ConeProgram signed_cones = cones;
  for (ConeContact& cone : signed_cones.contacts) cone.cost *= sign;
  const ConeSummary s = program.graph.solver->solve(signed_cones, {.tolerance = tolerance});
  Extreme out;
  if (s.status == SolveStatus::kUnbounded) {
    out.value = -sign * std::numeric_limits<double>::infinity();
    return out;
  }
  if (s.status != SolveStatus::kOptimal) return std::nullopt;
  VectorX f = s.f;
  if (polish_forces(program, cones.b, f) > kBalanced) return std::nullopt;
  for (std::size_t i = 0; i < cones.contacts.size(); ++i) {
    out.value += program.force_unit *
                 cones.contacts[i].cost.dot(f.segment<3>(3 * static_cast<Eigen::Index>(i)));
  }
  out.forces = forces_of(program, f, load_factor);
  return out;
}

}  // namespace

std::optional<ThrustRange> thrust_range(const Assembly& assembly, const LoadCase& load,
                                        double load_factor,
                                        const std::vector<JointDirection>& along,
                                        const StandOptions& options) {
  const Program program = build(assembly, load, options);
  ConeProgram cones{static_cast<int>(program.blocks.size()),
                    program.cones,
                    {},
                    -(program.weight + load_factor * program.live)};
  for (std::size_t i = 0; i < program.contacts.size(); ++i) {
    const Contact& c = program.contacts[i];
    for (const JointDirection& d : along) {
      if (d.joint != c.joint || c.joint < 0) continue;
      cones.contacts[i].cost +=
          Vec3(d.direction.dot(c.n), d.direction.dot(c.x), d.direction.dot(c.y));
    }
  }
  const auto least = extreme(program, cones, 1, load_factor, options.tolerance),
             greatest = extreme(program, cones, -1, load_factor, options.tolerance);
  if (!least || !greatest) return std::nullopt;
  return ThrustRange{least->value, greatest->value, least->forces, greatest->forces};
}

std::optional<double> least_friction(const Assembly& assembly, const LoadCase& load,
                                     double load_factor, const StandOptions& options, double near,
                                     double most) {
  return least_friction_on(nullptr, {assembly, load, options}, load_factor, near, most);
}

namespace {

/// A case with every friction to be chosen.
class FrictionTrial {
 public:
  FrictionTrial(const Graph* graph, const LimitTask& task, double load_factor, double most)
      : tolerance_(task.options.tolerance) {
    StandOptions tried = task.options;
    for (Prop& prop : tried.props) prop.friction = most;
    tried.friction = most;
    program_ = build(task.assembly, task.load, tried, graph);
    program_.weight += load_factor * program_.live;
  }
  [[nodiscard]] bool enough(double mu) {
    for (ConeContact& cone : program_.cones) cone.friction = mu;
    return holds(program_, tolerance_);
  }

 private:
  Program program_;
  double tolerance_;
};

}  // namespace

bool friction_does(const Graph* graph, const LimitTask& task, double load_factor, double friction) {
  return FrictionTrial(graph, task, load_factor, friction).enough(friction);
}

std::optional<double> least_friction_on(const Graph* graph, const LimitTask& task,
                                        double load_factor, double near, double most) {
  FrictionTrial trial(graph, task, load_factor, most);
  if (!trial.enough(most)) return std::nullopt;
  double slides = 0, stays = most;
  while (stays - slides > near * stays && stays > 1e-6) {
    const double middle = (slides + stays) / 2;
    (trial.enough(middle) ? stays : slides) = middle;
  }
  return stays;
}

}  // namespace skewback
