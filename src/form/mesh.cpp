#include "form/mesh.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>

#include "form/force_density.hpp"
#include "form/polyline.hpp"

namespace skewback {
namespace {

double cross(const Vec2& a, const Vec2& b) { return a.x() * b.y() - a.y() * b.x(); }

Vec2 middle(const Support& s) { return 0.5 * (s.a + s.b); }

// Arc length on free edge k where its fibre passes from one arm to the next.
double waist(const Plan& plan, std::size_t k, const Vec2& centre) {
  const std::vector<Vec2>& line = plan.free_edges[k].line;
  return plan.supports.size() == 2 ? 0.5 * length(line) : nearest(line, centre).s;
}

// Stations 0..1 of a half fibre of length `outer` beside a centreline of length `inner`: spaced
// like the centreline near the support, so that rows start square, and drawn together towards the
// ridge.
double station(double t, double inner, double outer) {
  if (outer >= inner) return t;
  const double shortfall = (inner - outer) / outer;
  const double power = std::max(1.0, std::min(3.0, 0.6 * (1 + shortfall) / shortfall));
  return (1 + shortfall) * t - shortfall * std::pow(t, power);
}

class Builder {
 public:
  Builder(const Plan& plan, double size)
      : plan_(plan), size_(size), n_(plan.supports.size()), before_(n_), after_(n_) {
    centre_ = meeting_point(plan);
    mesh_.arms.resize(n_);
  }

  FibreMesh build() {
    mesh_.meeting = add(centre_, -1, -1);
    for (std::size_t k = 0; k < n_; ++k) add_centreline(k);
    for (std::size_t k = 0; k < n_; ++k) add_bundle(k);
    for (std::size_t k = 0; k < n_; ++k) gather_arm(k);
    for (const auto& [pair, edge] : edges_) mesh_.edges.push_back(edge);
    return std::move(mesh_);
  }

 private:
  int add(const Vec2& p, int support, int free_edge) {
    mesh_.points.push_back(p);
    mesh_.support_of.push_back(support);
    mesh_.free_edge_of.push_back(free_edge);
    return static_cast<int>(mesh_.points.size()) - 1;
  }

  void join(int a, int b, bool along, int free_edge) {
    if (mesh_.support_of[a] >= 0 && mesh_.support_of[b] >= 0) return;
    const auto key = std::minmax(a, b);
    edges_.emplace(std::pair<int, int>{key.first, key.second}, MeshEdge{a, b, along, free_edge});
  }

  void add_centreline(std::size_t k) {
    const Vec2 foot = middle(plan_.supports[k]);
    const int steps = std::max(2, static_cast<int>(std::lround((centre_ - foot).norm() / size_)));
    std::vector<int> chain;
    for (int i = 0; i < steps; ++i)
      chain.push_back(add(foot + double(i) / steps * (centre_ - foot), i == 0 ? int(k) : -1, -1));
    chain.push_back(mesh_.meeting);
    centrelines_.push_back(chain);
  }

  // Points of the free edge of bundle k at its rows.
  [[nodiscard]] std::vector<Vec2> outer_points(std::size_t k, int rise_rows, int fall_rows) const {
    const std::vector<Vec2>& line = plan_.free_edges[k].line;
    const double whole = length(line), half = waist(plan_, k, centre_);
    const double up = (centre_ - middle(plan_.supports[k])).norm();
    const double down = (centre_ - middle(plan_.supports[(k + 1) % n_])).norm();
    std::vector<Vec2> points;
    for (int i = 0; i <= rise_rows; ++i)
      points.push_back(point_at(line, half * station(double(i) / rise_rows, up, half)));
    for (int i = fall_rows - 1; i >= 0; --i)
      points.push_back(point_at(
          line, whole - (whole - half) * station(double(i) / fall_rows, down, whole - half)));
    points.front() = line.front();
    points.back() = line.back();
    return points;
  }

  void add_bundle(std::size_t k) {
    const std::size_t next = (k + 1) % n_;
    const Support &from = plan_.supports[k], &to = plan_.supports[next];
    const int up = int(centrelines_[k].size()) - 1, down = int(centrelines_[next].size()) - 1;
    const double half_width = 0.5 * std::max((from.b - from.a).norm(), (to.b - to.a).norm());
    const int across = std::max(2, static_cast<int>(std::lround(half_width / size_)));
    const std::vector<Vec2> outer = outer_points(k, up, down);

    std::vector<std::vector<int>> grid(across + 1, std::vector<int>(up + down + 1));
    for (int i = 0; i <= up + down; ++i)
      grid[0][i] = i <= up ? centrelines_[k][i] : centrelines_[next][up + down - i];
    for (int j = 1; j <= across; ++j)
      for (int i = 0; i <= up + down; ++i) {
        const double v = double(j) / across;
        const Vec2 p = (1 - v) * mesh_.points[grid[0][i]] + v * outer[i];
        const int support = i == 0 ? int(k) : i == up + down ? int(next) : -1;
        grid[j][i] = add(p, support, j == across ? int(k) : -1);
      }
    connect(grid, k, next, up);
  }

  void connect(const std::vector<std::vector<int>>& grid, std::size_t k, std::size_t next, int up) {
    const int across = int(grid.size()) - 1, last = int(grid[0].size()) - 1;
    for (int j = 0; j <= across; ++j)
      for (int i = 0; i < last; ++i)
        join(grid[j][i], grid[j][i + 1], true, j == across ? int(k) : -1);
    for (int i = 0; i <= last; ++i) {
      std::vector<int> row;
      for (int j = across; j >= 0; --j) row.push_back(grid[j][i]);
      for (int j = 0; j < across; ++j) join(row[j], row[j + 1], false, -1);
      mesh_.rows.push_back(row);
    }
    // seen from above, the free edge is on the right of a fibre that runs from support k to the
    // next
    for (int j = 0; j < across; ++j)
      for (int i = 0; i < last; ++i)
        mesh_.quads.push_back({grid[j + 1][i], grid[j + 1][i + 1], grid[j][i + 1], grid[j][i]});
    for (int j = 1; j <= across; ++j) {
      after_[k].emplace_back(grid[j].begin(), grid[j].begin() + up + 1);
      before_[next].emplace_back(grid[j].rbegin(), grid[j].rbegin() + (last - up) + 1);
    }
  }

  void gather_arm(std::size_t k) {
    Arm& arm = mesh_.arms[k];
    arm.fibres.assign(before_[k].rbegin(), before_[k].rend());
    arm.centre = int(arm.fibres.size());
    arm.fibres.push_back(centrelines_[k]);
    arm.fibres.insert(arm.fibres.end(), after_[k].begin(), after_[k].end());
  }

  const Plan& plan_;
  double size_;
  std::size_t n_;
  Vec2 centre_;
  FibreMesh mesh_;
  std::vector<std::vector<int>> centrelines_;
  std::vector<std::vector<std::vector<int>>> before_,
      after_;  // half fibres, outwards from the centre
  std::map<std::pair<int, int>, MeshEdge> edges_;
};

// Rounds the fibres where they turn past the meeting point: the interior is placed in plane
// equilibrium with equal force densities, outline and meeting point held.
void round_fibres(FibreMesh& mesh) {
  Net net;
  net.fixed.assign(mesh.points.size(), 0);
  for (std::size_t i = 0; i < mesh.points.size(); ++i) {
    net.points.emplace_back(mesh.points[i].x(), mesh.points[i].y(), 0);
    net.fixed[i] = mesh.support_of[i] >= 0 || mesh.free_edge_of[i] >= 0 || int(i) == mesh.meeting;
  }
  for (const MeshEdge& e : mesh.edges) net.edges.push_back({e.a, e.b, 1.0, -1});
  const auto placed = equilibrium(net, std::vector<Vec3>(net.points.size(), Vec3::Zero()));
  if (!placed) return;
  for (std::size_t i = 0; i < mesh.points.size(); ++i) mesh.points[i] = (*placed)[i].head<2>();
}

Result<FibreMesh> checked(FibreMesh mesh) {
  for (const std::array<int, 4>& q : mesh.quads)
    for (int c = 0; c < 4; ++c) {
      const Vec2 &p = mesh.points[q[c]], &a = mesh.points[q[(c + 1) % 4]],
                 &b = mesh.points[q[(c + 3) % 4]];
      if (cross(a - p, b - p) > 0) continue;
      char place[64];
      std::snprintf(place, sizeof place, "(%.3f, %.3f)", p.x(), p.y());
      Fault fault;
      fault.key = "form: mesh";
      fault.found = std::string("a fold of the mesh at ") + place;
      fault.expected =
          "arms that run from each support straight to the meeting point inside the plan";
      fault.change =
          "move plan.meeting towards the middle of the plan, or smooth the outline there";
      return fault;
    }
  return mesh;
}

}  // namespace

Vec2 meeting_point(const Plan& plan) {
  if (plan.meeting) return *plan.meeting;
  const std::size_t n = plan.supports.size();
  Vec2 centre = Vec2::Zero();
  for (const Support& s : plan.supports) centre += middle(s) / double(n);
  for (int round = 0; round < 20; ++round) {
    Vec2 sum = Vec2::Zero();
    for (std::size_t k = 0; k < n; ++k)
      sum += point_at(plan.free_edges[k].line, waist(plan, k, centre));
    centre = sum / double(n);
  }
  return centre;
}

Result<FibreMesh> fibre_mesh(const Plan& plan, double mesh_size_m) {
  FibreMesh mesh = Builder(plan, mesh_size_m).build();
  round_fibres(mesh);
  return checked(std::move(mesh));
}

std::vector<std::array<int, 3>> triangles_of(const FibreMesh& mesh) {
  std::vector<std::array<int, 3>> triangles;
  for (const std::array<int, 4>& q : mesh.quads) {
    const double d02 = (mesh.points[q[0]] - mesh.points[q[2]]).norm();
    const double d13 = (mesh.points[q[1]] - mesh.points[q[3]]).norm();
    if (d02 <= d13) {
      triangles.push_back({q[0], q[1], q[2]});
      triangles.push_back({q[0], q[2], q[3]});
    } else {
      triangles.push_back({q[0], q[1], q[3]});
      triangles.push_back({q[1], q[2], q[3]});
    }
  }
  return triangles;
}

}  // namespace skewback
