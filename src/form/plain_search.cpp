#include "form/plain_search.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "form/free_system.hpp"
#include "form/levelness.hpp"
#include "form/plain_fit.hpp"
#include "form/start_net.hpp"
#include "form/weight.hpp"

namespace skewback::plain {
namespace {

constexpr int kRounds = 3;                                 // fit and equilibrium
constexpr int kWeightRounds = 40;                          // weight follows the shape, forces kept
constexpr double kWeightSettled = 1e-6;                    // of the weight
constexpr double kFloorAlong = 0.05, kFloorAcross = 1e-5;  // of the mean force along a fibre
constexpr int kFirstSteps = 12, kLaterSteps = 6;
constexpr double kLevelWeight = 0.3, kInnerWeight = 0.1;

std::vector<double> floors(const FibreMesh& mesh, const Net& net) {
  double sum = 0, count = 0;
  for (std::size_t k = 0; k < net.edges.size(); ++k)
    if (mesh.edges[k].along) {
      const NetEdge& e = net.edges[k];
      sum += e.q * (net.points[e.a] - net.points[e.b]).head<2>().norm();
      count += 1;
    }
  std::vector<double> floor;
  for (const MeshEdge& e : mesh.edges)
    floor.push_back(sum / count * (e.along ? kFloorAlong : kFloorAcross) /
                    (mesh.points[e.a] - mesh.points[e.b]).norm());
  return floor;
}

ShapeWish wish_for(const FibreMesh& mesh, const Net& net, double crown) {
  ShapeWish wish;
  // outline and meeting point as drawn; the rest may settle, and stays by where it last was
  for (std::size_t i = 0; i < mesh.points.size(); ++i) {
    const bool drawn = mesh.free_edge_of[i] >= 0 || at_meeting(mesh, int(i));
    wish.plan_weight.push_back(drawn ? 1 : kInnerWeight);
    wish.drawn.push_back(drawn ? mesh.points[i] : Vec2(net.points[i].head<2>()));
  }
  wish.level = levelness(mesh, net.points);
  wish.level_weight = kLevelWeight;
  wish.crown = mesh.crown;
  wish.crown_z = crown;
  wish.floor_q = floors(mesh, net);
  return wish;
}

bool near(const std::vector<double>& a, const std::vector<double>& b) {
  double change = 0, whole = 0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    change += std::abs(a[i] - b[i]);
    whole += a[i];
  }
  return change <= kWeightSettled * whole;
}

double crown_height(const Brief& brief) {
  double mean_level = 0;
  for (const Support& s : brief.plan.supports) mean_level += s.level_m;
  mean_level /= double(brief.plan.supports.size());
  return mean_level + brief.form.rise_m;
}

}  // namespace

Result<FoundNet> find_net(const Brief& brief, const FibreMesh& mesh,
                          const std::vector<std::array<int, 3>>& triangles,
                          const std::vector<double>& vertex_load_n, const Progress& progress) {
  const double crown = crown_height(brief);
  Net net = start_net(brief, mesh, crown);
  const bool by_load_path = brief.form.start == kByLoadPath;
  const double reach = 0.5 * (brief.section.depth_crown_m + brief.section.depth_springing_m);
  const auto weight = [&] {
    return spread_across(
        mesh, reach,
        vertex_load_n.empty() ? first_weight(brief, mesh, triangles, net.points) : vertex_load_n);
  };
  std::vector<double> load = weight();
  if (by_load_path) {
    auto start = start_by_load_path(brief, mesh, load, crown);
    if (!start) return start.faults();
    net = std::move(start).value();
  } else {
    auto scaled = equilibrium_with_height(net, load, mesh.crown, crown);
    if (!scaled) return scaled.faults();
    net.edges = scaled->edges;
  }
  SearchCost cost;
  for (int round = 0; round < kRounds; ++round) {
    progress.checkpoint("form", double(round) / kRounds);
    auto fit =
        fit_shape(net, load, wish_for(mesh, net, crown), round == 0 ? kFirstSteps : kLaterSteps);
    if (!fit) return fit.faults();
    net = fit->net;
    cost.steps += fit->steps;
    load = weight();
  }
  FreeSystem system(net);
  for (int round = 0; round < kWeightRounds; ++round) {
    auto found = equilibrium_with_height(system, net, load, mesh.crown, crown);
    if (!found) return found.faults();
    net = *found;
    if (!vertex_load_n.empty()) break;
    const std::vector<double> next = weight();
    if (near(next, load)) break;
    load = next;
  }
  return FoundNet{net, load, cost, by_load_path};
}

Result<FoundNet> follow_net(const Brief& brief, const FibreMesh& mesh,
                            const std::vector<NetEdge>& forces,
                            const std::vector<double>& vertex_load_n, int steps) {
  const double crown = crown_height(brief);
  Net net = start_net(brief, mesh, crown);
  for (std::size_t k = 0; k < net.edges.size(); ++k) net.edges[k].q = forces[k].q;
  const double reach = 0.5 * (brief.section.depth_crown_m + brief.section.depth_springing_m);
  const std::vector<double> load = spread_across(mesh, reach, vertex_load_n);
  SearchCost cost;
  auto lifted = equilibrium_with_height(net, load, mesh.crown, crown);
  if (!lifted) return lifted.faults();
  net = std::move(lifted).value();
  if (steps > 0) {
    auto fit = fit_shape(net, load, wish_for(mesh, net, crown), steps);
    if (!fit) return fit.faults();
    net = std::move(fit->net);
    cost.steps = fit->steps;
  }
  return FoundNet{std::move(net), load, cost};
}

}  // namespace skewback::plain
