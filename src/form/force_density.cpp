#include "form/force_density.hpp"

#include <cmath>

#include "form/free_system.hpp"

namespace skewback {
namespace {

Fault not_held() {
  Fault fault;
  fault.key = "form: net";
  fault.found = "a free point that no edge holds";
  fault.expected = "every point joined to a support by edges in compression";
  return fault;
}

}  // namespace

std::vector<Vec3> as_forces(const std::vector<double>& downward) {
  std::vector<Vec3> forces(downward.size(), Vec3::Zero());
  for (std::size_t i = 0; i < downward.size(); ++i) forces[i].z() = -downward[i];
  return forces;
}

Result<std::vector<Vec3>> equilibrium(const Net& net, const std::vector<Vec3>& load) {
  const FreeSystem system(net);
  if (!system.ok()) return not_held();
  return system.placed(net, system.solve(system.right_side(net, load)));
}

Result<Net> equilibrium_with_height(const Net& net, const std::vector<double>& downward,
                                    const std::vector<int>& crown, double z) {
  const FreeSystem system(net);
  if (!system.ok()) return not_held();
  const std::vector<Vec3> none(net.points.size(), Vec3::Zero()), load = as_forces(downward);
  const Eigen::MatrixXd unloaded_side = system.right_side(net, none);
  const Eigen::MatrixXd unloaded = system.solve(unloaded_side);
  const Eigen::MatrixXd lift = system.solve(system.right_side(net, load) - unloaded_side);
  // With all q multiplied by f the shape is unloaded + lift / f.
  const double flat = mean_height(system.placed(net, unloaded), crown);
  double lifted = 0;
  for (int i : crown)
    if (system.index(i) >= 0) lifted += lift(system.index(i), 2) / double(crown.size());
  const double factor = lifted / (z - flat);
  if (!(factor > 0) || !std::isfinite(factor)) {
    Fault fault;
    fault.key = "form: rise";
    fault.found = "a meeting point that no thrust lifts to the rise asked for";
    fault.expected = "a rise above the level the supports alone give";
    fault.change = "raise form.rise or level the supports";
    return fault;
  }
  Net out = net;
  for (NetEdge& e : out.edges) e.q *= factor;
  out.points = system.placed(net, unloaded + lift / factor);
  return out;
}

double mean_height(const std::vector<Vec3>& points, const std::vector<int>& which) {
  double sum = 0;
  for (int i : which) sum += points[i].z();
  return sum / double(which.size());
}

std::vector<Vec3> unbalanced(const Net& net, const std::vector<Vec3>& load) {
  std::vector<Vec3> sum = load;
  for (const NetEdge& e : net.edges) {
    const Vec3 push = e.q * (net.points[e.a] - net.points[e.b]);
    sum[e.a] += push;
    sum[e.b] -= push;
  }
  return sum;
}

}  // namespace skewback
