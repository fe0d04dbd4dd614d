#include "form/load_path.hpp"

namespace skewback {
namespace {

constexpr double kGive = 1e-5, kTolerance = 1e-4;
constexpr double kLeastShare = 1e-3;  // of the mean force, added to each edge

double plan_length(const Net& net, const NetEdge& e) {
  return (net.points[e.a] - net.points[e.b]).head<2>().norm();
}

}  // namespace

Result<Net> first_form_by_load_path(const Net& drawn, const std::vector<double>& downward,
                                    const std::vector<int>& crown, double z) {
  Net level = drawn;
  for (Vec3& p : level.points) p.z() = 0;
  auto best = least_load_path(level, downward, {.tolerance = kTolerance, .give = kGive});
  if (!best) return best.faults();
  double mean = 0;
  for (const NetEdge& e : best->net.edges)
    mean += e.q * plan_length(level, e) / double(level.edges.size());
  Net out = drawn;
  for (std::size_t k = 0; k < out.edges.size(); ++k)
    out.edges[k].q = best->net.edges[k].q + kLeastShare * mean / plan_length(level, out.edges[k]);
  return equilibrium_with_height(out, downward, crown, z);
}

}  // namespace skewback
