#include "form/plain_search.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "form/plain_fit.hpp"
#include "form/weight.hpp"

namespace skewback::plain {
namespace {

constexpr int kRounds = 3;                                 // fit and equilibrium
constexpr int kWeightRounds = 40;                          // weight follows the shape, forces kept
constexpr double kWeightSettled = 1e-6;                    // of the weight
constexpr double kFloorAlong = 0.05, kFloorAcross = 1e-5;  // of the mean force along a fibre
constexpr int kFirstSteps = 12, kLaterSteps = 6;
constexpr double kLevelWeight = 0.3, kKinkWeight = 1, kInnerWeight = 0.1;

// Mean rise of a parabola over an arm, to start from.
std::vector<Vec3> first_shape(const Brief& brief, const FibreMesh& mesh, double crown) {
  std::vector<Vec3> points(mesh.points.size());
  for (std::size_t i = 0; i < points.size(); ++i)
    points[i] = {mesh.points[i].x(), mesh.points[i].y(), crown};
  for (std::size_t k = 0; k < mesh.arms.size(); ++k) {
    const double level = brief.plan.supports[k].level_m;
    for (const auto* side : {&mesh.arms[k].before, &mesh.arms[k].after})
      for (const std::vector<int>& fibre : *side)
        for (std::size_t i = 0; i < fibre.size(); ++i) {
          const double rest = std::max(0.0, 1 - double(i) / mesh.arms[k].trunk);
          points[fibre[i]].z() = crown - (crown - level) * rest * rest;
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

// Rows of a linear map of the heights, each wanted to be zero.
class Rows {
 public:
  using Entries = std::vector<std::pair<int, double>>;  // point, factor
  void add(const Entries& row, double weight) {
    for (const auto& [point, factor] : row) entries_.emplace_back(count_, point, weight * factor);
    ++count_;
  }
  [[nodiscard]] SparseMatrix matrix(std::size_t points) const {
    SparseMatrix m(count_, Eigen::Index(points));
    m.setFromTriplets(entries_.begin(), entries_.end());
    return m;
  }

 private:
  int count_ = 0;
  std::vector<Eigen::Triplet<double>> entries_;
};

// Height of each point of a fibre less that of the centreline as far from the support; along an
// eye's edge, less that of its first point.
std::vector<Rows::Entries> over_centre(const std::vector<int>& fibre,
                                       const std::vector<int>& centre, int trunk,
                                       const std::vector<Vec3>& points) {
  const std::vector<double> along = stations(centre, points), s = stations(fibre, points);
  std::vector<Rows::Entries> rows;
  for (std::size_t i = 0; i < s.size(); ++i) {
    if (fibre[i] == centre[i]) {
      rows.emplace_back();
      if (int(i) > trunk) rows.back() = {{fibre[i], 1.0}, {centre[trunk], -1.0}};
      continue;
    }
    const auto above = std::upper_bound(along.begin() + 1, along.end() - 1, s[i]);
    const std::size_t c = std::size_t(above - along.begin());
    const double t = std::min(1.0, (s[i] - along[c - 1]) / (along[c] - along[c - 1]));
    rows.push_back({{fibre[i], 1.0}, {centre[c - 1], t - 1}, {centre[c], -t}});
  }
  return rows;
}

// Second difference of three places side by side.
Rows::Entries kink(const Rows::Entries& a, const Rows::Entries& b, const Rows::Entries& c) {
  Rows::Entries row;
  for (const auto& [part, share] : {std::pair{&a, -0.5}, {&b, 1.0}, {&c, -0.5}})
    for (const auto& [point, factor] : *part) row.emplace_back(point, share * factor);
  return row;
}

// Level sections: no point over its centreline, and no kinks across.
SparseMatrix levelness(const FibreMesh& mesh, const std::vector<Vec3>& points) {
  Rows rows;
  for (const Arm& arm : mesh.arms) {
    std::array<std::vector<std::vector<Rows::Entries>>, 2> over;
    for (const int side : {0, 1}) {
      const auto& fibres = side == 0 ? arm.before : arm.after;
      for (const std::vector<int>& fibre : fibres)
        over[side].push_back(over_centre(fibre, fibres.front(), arm.trunk, points));
      for (std::size_t i = 1; i < over[side].front().size(); ++i)
        for (std::size_t f = 0; f < fibres.size(); ++f) {
          if (!over[side][f][i].empty()) rows.add(over[side][f][i], 1.0);
          if (f > 0 && f + 1 < fibres.size())
            rows.add(kink(over[side][f - 1][i], over[side][f][i], over[side][f + 1][i]),
                     kKinkWeight);
        }
    }
    for (int i = 1; i <= arm.trunk; ++i)
      rows.add(kink(over[0][1][i], over[0][0][i], over[1][1][i]), kKinkWeight);
  }
  return rows.matrix(points.size());
}

// Force along a fibre by the width it stands for at its support, a little across.
void first_forces(const FibreMesh& mesh, Net& net) {
  for (std::size_t k = 0; k < net.edges.size(); ++k) {
    const MeshEdge& e = mesh.edges[k];
    const double length = (mesh.points[e.a] - mesh.points[e.b]).norm();
    const double force = !e.along ? 0.02 : e.free_edge >= 0 ? 0.5 : 1.0;
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
  // outline and meeting point as drawn; the rest may settle, and stays by where it last was
  for (std::size_t i = 0; i < mesh.points.size(); ++i) {
    const bool drawn = mesh.free_edge_of[i] >= 0 || int(i) == mesh.meeting;
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

Net start_net(const Brief& brief, const FibreMesh& mesh, double crown) {
  Net net;
  net.points = first_shape(brief, mesh, crown);
  for (const MeshEdge& e : mesh.edges) net.edges.push_back({e.a, e.b, 0, e.free_edge});
  net.fixed.resize(net.points.size());
  for (std::size_t i = 0; i < net.fixed.size(); ++i) net.fixed[i] = mesh.support_of[i] >= 0;
  first_forces(mesh, net);
  return net;
}

bool near(const std::vector<double>& a, const std::vector<double>& b) {
  double change = 0, whole = 0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    change += std::abs(a[i] - b[i]);
    whole += a[i];
  }
  return change <= kWeightSettled * whole;
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
  for (int round = 0; round < kWeightRounds; ++round) {
    auto found = equilibrium_with_height(net, load, mesh.crown, crown);
    if (!found) return found.faults();
    net = *found;
    if (!vertex_load_n.empty()) break;
    const std::vector<double> next = weight();
    if (near(next, load)) break;
    load = next;
  }
  return FoundNet{net, load, cost};
}

}  // namespace skewback::plain
