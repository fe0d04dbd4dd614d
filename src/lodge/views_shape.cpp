#include "lodge/arrays.hpp"
#include "lodge/views.hpp"

namespace skewback::lodge {
namespace {

void add_net(const Form& form, Sheaf& sheaf) {
  std::vector<float> vertices, force;
  std::vector<std::uint32_t> edges;
  std::vector<std::int32_t> free_edge;
  for (const Vec3& v : form.vertices) put(vertices, v);
  for (const NetEdge& e : form.edges) {
    edges.push_back(static_cast<std::uint32_t>(e.a));
    edges.push_back(static_cast<std::uint32_t>(e.b));
    const auto a = static_cast<std::size_t>(e.a), b = static_cast<std::size_t>(e.b);
    force.push_back(static_cast<float>(e.q * (form.vertices[b] - form.vertices[a]).norm()));
    free_edge.push_back(e.free_edge);
  }
  sheaf.add("vertices", std::move(vertices), 3);
  sheaf.add("edges", std::move(edges), 2);
  sheaf.add("edge_force_n", std::move(force));
  sheaf.add("free_edge", std::move(free_edge));
}

void add_flow(const Form& form, Sheaf& sheaf) {
  std::vector<std::uint32_t> triangles;
  std::vector<std::int32_t> arm;
  std::vector<float> flow, strength, phi;
  for (std::size_t t = 0; t < form.triangles.size(); ++t) {
    for (const int corner : form.triangles[t])
      triangles.push_back(static_cast<std::uint32_t>(corner));
    arm.push_back(form.arm[t]);
    flow.push_back(static_cast<float>(form.flow[t].x()));
    flow.push_back(static_cast<float>(form.flow[t].y()));
    strength.push_back(static_cast<float>(form.flow_strength[t]));
    for (const double at_corner : form.phi[t]) phi.push_back(static_cast<float>(at_corner));
  }
  sheaf.add("triangles", std::move(triangles), 3);
  sheaf.add("arm", std::move(arm));
  sheaf.add("flow", std::move(flow), 2);
  sheaf.add("flow_strength", std::move(strength));
  sheaf.add("phi", std::move(phi), 3);
}

void add_skins(const Body& body, Sheaf& sheaf) {
  std::vector<float> upper, lower;
  for (const Vec3& p : body.extrados) put(upper, p);
  for (const Vec3& p : body.intrados) put(lower, p);
  sheaf.add("upper", std::move(upper), 3);
  sheaf.add("lower", std::move(lower), 3);
}

Json edges_drawn(const Plan& plan) {
  Json out = Json::array();
  const int all = static_cast<int>(plan.free_edges.size() + plan.openings.size());
  for (int k = 0; k < all; ++k) {
    Json line = Json::array();
    for (const Vec2& p : drawn_edge(plan, k)) line.push_back(json(p));
    out.push_back(std::move(line));
  }
  return out;
}

}  // namespace

std::optional<Sheaf> shape_view(const Dossier& dossier) {
  if (!dossier.form) return std::nullopt;
  const Form& form = *dossier.form;
  Sheaf sheaf;
  sheaf.head = {{"view", "shape"},
                {"rise_m", form.rise_m},
                {"supports", supports_json(dossier.brief.plan)},
                {"edges_drawn", edges_drawn(dossier.brief.plan)},
                {"thrust_max_n", form.thrust_max_n},
                {"residual_rel", form.residual_rel}};
  add_net(form, sheaf);
  add_flow(form, sheaf);
  if (dossier.body) add_skins(*dossier.body, sheaf);
  return sheaf;
}

}  // namespace skewback::lodge
