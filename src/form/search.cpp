#include "form/search.hpp"

#include <algorithm>

#include "form/shape_fit.hpp"
#include "form/weight.hpp"

namespace skewback {
namespace {

constexpr int kRounds = 3;                                 // fit and equilibrium
constexpr int kWeightRounds = 6;                           // weight follows the shape, forces kept
constexpr double kFloorAlong = 0.05, kFloorAcross = 1e-5;  // of the mean force along a fibre
constexpr int kSteps = 8;
constexpr double kLevelWeight = 0.3, kInnerWeight = 0.1;

// Mean rise of a parabola over an arm, to start from.
std::vector<Vec3> first_shape(const Brief& brief, const FibreMesh& mesh, double crown) {
  std::vector<Vec3> points(mesh.points.size());
  for (std::size_t i = 0; i < points.size(); ++i)
    points[i] = {mesh.points[i].x(), mesh.points[i].y(), crown};
  for (std::size_t k = 0; k < mesh.half_fibres.size(); ++k) {
    const double level = brief.plan.supports[k].level_m;
    for (const std::vector<int>& chain : mesh.half_fibres[k])
      for (std::size_t i = 0; i < chain.size(); ++i) {
        const double rest = 1 - double(i) / double(chain.size() - 1);
        points[chain[i]].z() = crown - (crown - level) * rest * rest;
      }
  }
  return points;
}

// Plan distances along a chain from its first point.
std::vector<double> stations(const std::vector<int>& chain, const std::vector<Vec3>& points) {
  std::vector<double> s{0};
  for (std::size_t i = 1; i < chain.size(); ++i)
    s.push_back(s.back() + (points[chain[i]] - points[chain[i - 1]]).head<2>().norm());
  return s;
}

// Rows: height of a point less that of its centreline at the same distance from the support. Points
// on a ridge have two arms and two rows.
SparseMatrix levelness(const FibreMesh& mesh, const std::vector<Vec3>& points) {
  std::vector<Eigen::Triplet<double>> entries;
  int row = 0;
  for (const std::vector<std::vector<int>>& arm : mesh.half_fibres) {
    const std::vector<int>& centre = arm.front();
    const std::vector<double> along = stations(centre, points);
    for (std::size_t f = 1; f < arm.size(); ++f) {
      const std::vector<double> s = stations(arm[f], points);
      for (std::size_t i = 1; i < s.size(); ++i, ++row) {
        const auto above = std::upper_bound(along.begin() + 1, along.end() - 1, s[i]);
        const std::size_t c = above - along.begin();
        const double t = std::min(1.0, (s[i] - along[c - 1]) / (along[c] - along[c - 1]));
        entries.emplace_back(row, arm[f][i], 1.0);
        entries.emplace_back(row, centre[c - 1], t - 1);
        entries.emplace_back(row, centre[c], -t);
      }
    }
  }
  SparseMatrix level(row, Eigen::Index(points.size()));
  level.setFromTriplets(entries.begin(), entries.end());
  return level;
}

// Force along a fibre by the width it stands for at its support, a little across.
void first_forces(const FibreMesh& mesh, Net& net) {
  for (std::size_t k = 0; k < net.edges.size(); ++k) {
    const MeshEdge& e = mesh.edges[k];
    const double length = (mesh.points[e.a] - mesh.points[e.b]).norm();
    const double force = !e.along ? 0.05 : e.free_edge >= 0 ? 0.5 : 1.0;
    net.edges[k].q = force / length;
  }
}

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
  wish.drawn = mesh.points;
  wish.plan_weight.resize(mesh.points.size());
  for (std::size_t i = 0; i < mesh.points.size(); ++i)
    wish.plan_weight[i] = mesh.free_edge_of[i] >= 0 || int(i) == mesh.meeting ? 1 : kInnerWeight;
  wish.level = levelness(mesh, net.points);
  wish.level_weight = kLevelWeight;
  wish.crown = mesh.meeting;
  wish.crown_z = crown;
  wish.floor_q = floors(mesh, net);
  return wish;
}

Net start_net(const Brief& brief, const FibreMesh& mesh, double crown) {
  Net net;
  net.points = first_shape(brief, mesh, crown);
  for (const MeshEdge& e : mesh.edges) net.edges.push_back({e.a, e.b, 0, e.free_edge});
  net.fixed.resize(net.points.size());
  for (std::size_t i = 0; i < net.fixed.size(); ++i) net.fixed[i] = mesh.support_of[i] >= 0;
  first_forces(mesh, net);
  return net;
}

}  // namespace

Result<FoundNet> find_net(const Brief& brief, const FibreMesh& mesh,
                          const std::vector<std::array<int, 3>>& triangles,
                          const std::vector<double>& vertex_load_n, const Progress& progress) {
  double mean_level = 0;
  for (const Support& s : brief.plan.supports) mean_level += s.level_m;
  mean_level /= double(brief.plan.supports.size());
  const double crown = mean_level + brief.form.rise_m;

  Net net = start_net(brief, mesh, crown);
  const double reach = 0.5 * (brief.section.depth_crown_m + brief.section.depth_springing_m);
  const auto weight = [&] {
    return spread_across(
        mesh, reach,
        vertex_load_n.empty() ? first_weight(brief, mesh, triangles, net.points) : vertex_load_n);
  };
  std::vector<double> load = weight();
  {
    auto scaled = equilibrium_with_height(net, load, mesh.meeting, crown);
    if (!scaled) return scaled.faults();
    net.edges = scaled->edges;
  }
  for (int round = 0; round < kRounds; ++round) {
    progress.checkpoint("form", double(round) / kRounds);
    auto fit = fit_shape(net, load, wish_for(mesh, net, crown), kSteps);
    if (!fit) return fit.faults();
    net = fit->net;
    load = weight();
  }
  for (int round = 0; round < kWeightRounds; ++round) {
    auto found = equilibrium_with_height(net, load, mesh.meeting, crown);
    if (!found) return found.faults();
    net = *found;
    if (round + 1 < kWeightRounds) load = weight();
  }
  return FoundNet{net, load, mesh.points};
}

}  // namespace skewback
