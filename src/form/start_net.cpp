#include "form/start_net.hpp"

#include <algorithm>

#include "form/load_path.hpp"

namespace skewback {
namespace {

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

// Force along a fibre by the width it stands for at its support, a little across.
void first_forces(const FibreMesh& mesh, Net& net) {
  for (std::size_t k = 0; k < net.edges.size(); ++k) {
    const MeshEdge& e = mesh.edges[k];
    const double length = (mesh.points[e.a] - mesh.points[e.b]).norm();
    const double force = !e.along ? 0.02 : e.free_edge >= 0 ? 0.5 : 1.0;
    net.edges[k].q = force / length;
  }
}

}  // namespace

Net start_net(const Brief& brief, const FibreMesh& mesh, double crown) {
  Net net;
  net.points = first_shape(brief, mesh, crown);
  for (const MeshEdge& e : mesh.edges) net.edges.push_back({e.a, e.b, 0, e.free_edge});
  net.fixed.resize(net.points.size());
  for (std::size_t i = 0; i < net.fixed.size(); ++i) net.fixed[i] = mesh.support_of[i] >= 0;
  first_forces(mesh, net);
  return net;
}

Result<Net> start_by_load_path(const Brief& brief, const FibreMesh& mesh,
                               const std::vector<double>& downward, double crown) {
  return first_form_by_load_path(start_net(brief, mesh, crown), downward, mesh.crown, crown);
}

}  // namespace skewback
