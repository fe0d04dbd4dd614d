#include "form/mesh_finish.hpp"

#include <cstdio>

#include "form/force_density.hpp"

namespace skewback {
namespace {

constexpr double kSlant = 0.5;  // sine of the angle off square from which a quad gets a brace

double cross(const Vec2& a, const Vec2& b) { return a.x() * b.y() - a.y() * b.x(); }

}  // namespace

void brace(FibreMesh& mesh) {
  for (const std::array<int, 4>& q : mesh.quads) {
    const auto side = [&](int a, int b) -> Vec2 { return mesh.points[q[b]] - mesh.points[q[a]]; };
    const Vec2 along = side(0, 1) + side(3, 2), over = side(0, 3) + side(1, 2);
    if (std::abs(along.dot(over)) < kSlant * along.norm() * over.norm()) continue;
    const int first = along.dot(over) > 0 ? 1 : 0;  // the ends of the shorter diagonal
    const int a = q[first], b = q[first + 2];
    if (mesh.support_of[a] >= 0 && mesh.support_of[b] >= 0) continue;
    mesh.edges.push_back({a, b, false, -1, true});
  }
}

void round_fibres(double hold, FibreMesh& mesh) {
  Net net;
  net.fixed.assign(mesh.points.size(), 0);
  for (std::size_t i = 0; i < mesh.points.size(); ++i) {
    net.points.emplace_back(mesh.points[i].x(), mesh.points[i].y(), 0);
    net.fixed[i] = mesh.support_of[i] >= 0 || mesh.free_edge_of[i] >= 0 || at_meeting(mesh, int(i));
  }
  for (const MeshEdge& e : mesh.edges) net.edges.push_back({e.a, e.b, 1.0, -1});
  for (int i = 0; hold > 0 && i < int(mesh.points.size()); ++i) {
    if (net.fixed[i]) continue;
    net.edges.push_back({i, int(net.points.size()), hold, -1});
    net.points.push_back(net.points[i]);
    net.fixed.push_back(1);
  }
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
