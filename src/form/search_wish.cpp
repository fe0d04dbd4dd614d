#include "form/search_wish.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "form/levelness.hpp"

namespace skewback {
namespace {

constexpr double kFloorAlong = 0.05, kFloorAcross = 1e-5;  // of the mean force along a fibre
constexpr double kAlongEdge = 0.1;  // a point may slide along the edge it lies on
constexpr double kInner = 0.1, kSpacing = 0.35, kLevelWeight = 0.3;
// Of a force as large as the mean along fibres, and of a logarithm.
constexpr double kEven = 0.003, kKeep = 1e-4, kKeepWithShape = 1e-3;

std::vector<double> floors(const FibreMesh& mesh, double mean_force) {
  std::vector<double> floor;
  for (const MeshEdge& e : mesh.edges)
    floor.push_back(mean_force * (e.along ? kFloorAlong : kFloorAcross) /
                    (mesh.points[e.a] - mesh.points[e.b]).norm());
  return floor;
}

double mean_along(const FibreMesh& mesh, const Net& net) {
  double sum = 0, count = 0;
  for (std::size_t k = 0; k < net.edges.size(); ++k)
    if (mesh.edges[k].along) {
      sum += net.edges[k].q * (mesh.points[mesh.edges[k].a] - mesh.points[mesh.edges[k].b]).norm();
      count += 1;
    }
  return sum / count;
}

// Points of edges are held square to them and may slide along, but for sharp corners; the meeting
// is held; the rest stays roughly where it was drawn.
std::vector<PlaceWish> places(const FibreMesh& mesh) {
  std::vector<Eigen::Matrix2d> along(mesh.points.size(), Eigen::Matrix2d::Zero());
  for (const MeshEdge& e : mesh.edges) {
    if (e.free_edge < 0) continue;
    const Vec2 way = (mesh.points[e.a] - mesh.points[e.b]).normalized();
    along[e.a] += way * way.transpose();
    along[e.b] += way * way.transpose();
  }
  std::vector<PlaceWish> out(mesh.points.size());
  for (std::size_t i = 0; i < out.size(); ++i) {
    out[i].drawn = mesh.points[i];
    out[i].weight = (at_meeting(mesh, int(i)) ? 1 : kInner) * Eigen::Matrix2d::Identity();
    if (mesh.free_edge_of[i] < 0) continue;
    const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> principal(along[i]);
    const Vec2 t = principal.eigenvectors().col(1);
    const double slide = principal.eigenvalues()[1] > 1.8 ? kAlongEdge : 1;
    out[i].weight = Eigen::Matrix2d::Identity() + (slide - 1) * t * t.transpose();
  }
  return out;
}

// Fibres keep their spacing: across the flow every point inside keeps its share of the way between
// its neighbours in the row, as drawn. Along the flow it may move.
std::vector<BetweenWish> spacing(const FibreMesh& mesh) {
  std::vector<BetweenWish> out;
  const auto add = [&](int before, int after, const std::vector<int>& fibre, std::size_t i) {
    const int point = fibre[i];
    const Vec2 along = (mesh.points[fibre[i + 1]] - mesh.points[fibre[i - 1]]).normalized();
    const Vec2 across(-along.y(), along.x());
    const double whole = across.dot(mesh.points[after] - mesh.points[before]);
    if (whole == 0) return;
    const double share = across.dot(mesh.points[point] - mesh.points[before]) / whole;
    out.push_back({point, before, after, share, across, kSpacing});
  };
  for (const auto& grid : mesh.bundles)
    for (std::size_t j = 1; j + 1 < grid.size(); ++j)
      for (std::size_t i = 1; i + 1 < grid[j].size(); ++i)
        add(grid[j - 1][i], grid[j + 1][i], grid[j], i);
  for (const Arm& arm : mesh.arms)
    for (int i = 1; i < arm.trunk; ++i)
      if (!arm.parted(i)) add(arm.before[1][i], arm.after[1][i], arm.before[0], std::size_t(i));
  if (mesh.spine)
    for (std::size_t i = 1; i + 1 < mesh.spine->chain.size(); ++i)
      add(mesh.spine->left[i], mesh.spine->right[i], mesh.spine->chain, i);
  return out;
}

// Forces alike along fibres and along rows, and alike per width side by side.
class Evenness {
 public:
  Evenness(const FibreMesh& mesh, double mean_force, double weight)
      : mesh_(mesh), scale_(weight / mean_force) {
    for (std::size_t k = 0; k < mesh.edges.size(); ++k) {
      const auto [a, b] = std::minmax(mesh.edges[k].a, mesh.edges[k].b);
      index_[{a, b}] = int(k);
    }
    for (const auto& grid : mesh.bundles) add(grid);
    for (std::size_t k = 0; k < mesh.edges.size(); ++k)
      if (mesh.edges[k].brace) out_.push_back({int(k), int(k), scale_ * length(int(k)), 0});
  }
  [[nodiscard]] std::vector<EvenWish> take() { return std::move(out_); }

 private:
  [[nodiscard]] int edge(int a, int b) const {
    const auto it = index_.find(std::minmax(a, b));
    return it == index_.end() ? -1 : it->second;
  }
  [[nodiscard]] double length(int k) const {
    return (mesh_.points[mesh_.edges[k].a] - mesh_.points[mesh_.edges[k].b]).norm();
  }
  [[nodiscard]] double gap(int a, int b) const {
    return (mesh_.points[a] - mesh_.points[b]).norm();
  }

  void pair(int a, int b, double per_a, double per_b) {
    if (a < 0 || b < 0 || mesh_.edges[a].free_edge != mesh_.edges[b].free_edge) return;
    out_.push_back({a, b, scale_ * per_a * length(a), scale_ * per_b * length(b)});
  }
  void side_by_side(int a, int b, double width_a, double width_b) {
    if (a < 0 || b < 0) return;
    const double mean = 0.5 * (width_a + width_b);
    out_.push_back(
        {a, b, scale_ * mean / width_a * length(a), scale_ * mean / width_b * length(b)});
  }

  void add(const std::vector<std::vector<int>>& grid) {
    const int across = int(grid.size()) - 1, last = int(grid[0].size()) - 1;
    const auto width = [&](int j, int i) {  // that a fibre stands for
      double sum = 0;
      if (j > 0) sum += 0.5 * gap(grid[j][i], grid[j - 1][i]);
      if (j < across) sum += 0.5 * gap(grid[j][i], grid[j + 1][i]);
      if (j == 0 && mesh_.free_edge_of[grid[j][i]] < 0) sum *= 2;  // the next bundle's side
      return sum;
    };
    const auto depth = [&](int j, int i) {  // that a row stands for
      return 0.5 * (gap(grid[j][i], grid[j][std::max(0, i - 1)]) +
                    gap(grid[j][i], grid[j][std::min(last, i + 1)]));
    };
    for (int j = 0; j <= across; ++j)
      for (int i = 0; i < last; ++i) {
        const int here = edge(grid[j][i], grid[j][i + 1]);
        if (i + 1 < last) pair(here, edge(grid[j][i + 1], grid[j][i + 2]), 1, 1);
        if (j < across)
          side_by_side(here, edge(grid[j + 1][i], grid[j + 1][i + 1]),
                       width(j, i) + width(j, i + 1), width(j + 1, i) + width(j + 1, i + 1));
      }
    for (int i = 1; i < last; ++i)
      for (int j = 0; j < across; ++j) {
        const int here = edge(grid[j][i], grid[j + 1][i]);
        if (j + 1 < across) pair(here, edge(grid[j + 1][i], grid[j + 2][i]), 1, 1);
        if (i + 1 < last)
          side_by_side(here, edge(grid[j][i + 1], grid[j + 1][i + 1]),
                       depth(j, i) + depth(j + 1, i), depth(j, i + 1) + depth(j + 1, i + 1));
      }
  }

  const FibreMesh& mesh_;
  double scale_;
  std::map<std::pair<int, int>, int> index_;
  std::vector<EvenWish> out_;
};

double size_unit(const std::vector<Vec2>& points) {
  Vec2 low = points.front(), high = low;
  for (const Vec2& p : points) {
    low = low.cwiseMin(p);
    high = high.cwiseMax(p);
  }
  return (high - low).norm() / std::sqrt(200.0);
}

}  // namespace

ShapeWish wish_for(const Brief& brief, const FibreMesh& mesh, const Net& net, double crown_z) {
  ShapeWish wish;
  wish.unit_m = size_unit(mesh.points);
  wish.place = places(mesh);
  std::vector<Vec3> drawn;
  for (const Vec2& p : mesh.points) drawn.emplace_back(p.x(), p.y(), 0);
  wish.level = levelness(mesh, drawn);
  wish.level_weight = kLevelWeight;
  const double force = mean_along(mesh, net);
  wish.even = Evenness(mesh, force, kEven * wish.unit_m * brief.form.evenness).take();
  wish.floor_q = floors(mesh, force);
  for (const MeshEdge& e : mesh.edges)
    wish.unit_q.push_back(force / (mesh.points[e.a] - mesh.points[e.b]).norm());
  wish.between = spacing(mesh);
  wish.keep = kKeep * wish.unit_m;
  for (std::size_t k = 0; k < net.edges.size(); ++k)
    wish.first.push_back(std::log(above_floor(net.edges[k].q, wish.floor_q[k]) / wish.unit_q[k]));
  wish.crown = mesh.crown;
  wish.crown_z = crown_z;
  return wish;
}

ShapeWish keeping_shape(const ShapeWish& wish, const Net& net, double ratio) {
  ShapeWish out = wish;
  out.keep = kKeepWithShape * wish.unit_m;
  for (std::size_t k = 0; k < net.edges.size(); ++k)
    out.first[k] = std::log(above_floor(net.edges[k].q, wish.floor_q[k]) / wish.unit_q[k]);
  out.standing = standing_residuals(net, out);
  for (double& q : out.unit_q) q *= ratio;
  for (double& q : out.floor_q) q *= ratio;
  for (EvenWish& even : out.even) {
    even.of_a /= ratio;
    even.of_b /= ratio;
  }
  return out;
}

}  // namespace skewback
