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

namespace {

// `system` holds the net's forces.
Result<Net> with_height(const FreeSystem& system, const Net& net,
                        const std::vector<double>& downward, const std::vector<int>& crown,
                        double z) {
  if (!system.ok()) return not_held();
  const std::vector<Vec3> none(net.points.size(), Vec3::Zero());
  FreeSystem::Sides sides = system.right_side(net, none);
  const FreeSystem::Sides loaded = system.right_side(net, as_forces(downward));
  for (std::size_t i = 0; i < sides.size(); ++i)  // what the load adds, upright, is the last lane
    sides[i].of[3] = loaded[i].of[2] - sides[i].of[2];
  FreeSystem::Sides shape = system.solve(sides);
  // With all q multiplied by f the shape is unloaded + lift / f.
  const double flat = mean_height(system.placed(net, shape), crown);
  double lifted = 0;
  for (int i : crown)
    if (!net.fixed[i]) lifted += shape[system.row(i)].of[3] / double(crown.size());
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
  for (Lanes& at : shape) at.of[2] += at.of[3] / factor;
  out.points = system.placed(net, shape);
  return out;
}

}  // namespace

Result<Net> equilibrium_with_height(const Net& net, const std::vector<double>& downward,
                                    const std::vector<int>& crown, double z) {
  return with_height(FreeSystem(net), net, downward, crown, z);
}

Result<Net> equilibrium_with_height(FreeSystem& system, const Net& net,
                                    const std::vector<double>& downward,
                                    const std::vector<int>& crown, double z) {
  system.refactor(net);
  return with_height(system, net, downward, crown, z);
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
