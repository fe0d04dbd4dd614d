#include "lodge/arrays.hpp"
#include "lodge/views.hpp"

namespace skewback::lodge {
namespace {

std::optional<std::size_t> nearest(const Form& form, const Vec2& at) {
  std::optional<std::size_t> found;
  for (std::size_t v = 0; v < form.vertices.size(); ++v) {
    const auto away = [&](std::size_t i) { return (form.vertices[i].head<2>() - at).norm(); };
    if (!found || away(v) < away(*found)) found = v;
  }
  return found;
}

Json force_json(const Vec3& force, const char* kind) {
  return {{"kind", kind}, {"force", json(force)}};
}

}  // namespace

std::optional<Json> node_json(const Dossier& dossier, const Vec2& at) {
  if (!dossier.form) return std::nullopt;
  const Form& form = *dossier.form;
  const auto node = nearest(form, at);
  if (!node) return std::nullopt;
  const ForcePolygon polygon = force_polygon(form, static_cast<int>(*node));
  const bool held = form.support_of[*node] >= 0;
  const std::size_t edges = polygon.forces.size() - (held ? 2 : 1);
  Json forces = Json::array(), corners = Json::array({json(Vec3(Vec3::Zero()))});
  Vec3 corner = Vec3::Zero();
  for (std::size_t i = 0; i < polygon.forces.size(); ++i) {
    const char* kind = i < edges ? "edge" : i == edges ? "load" : "reaction";
    forces.push_back(force_json(polygon.forces[i], kind));
    corner += polygon.forces[i];
    corners.push_back(json(corner));
  }
  return Json{{"vertex", *node},
              {"at", json(form.vertices[*node])},
              {"support", held ? Json(form.support_of[*node]) : Json(nullptr)},
              {"load_n", form.load_n[*node]},
              {"forces", std::move(forces)},
              {"corners", std::move(corners)},
              {"closure_rel", polygon.closure_rel}};
}

}  // namespace skewback::lodge
