#include "form/form.hpp"

#include <algorithm>
#include <cstdio>
#include <functional>
#include <optional>

#include "form/flow.hpp"
#include "form/follow.hpp"
#include "form/meeting_search.hpp"
#include "form/objectives.hpp"
#include "form/opening.hpp"
#include "form/opening_check.hpp"
#include "form/phi.hpp"
#include "form/plain_search.hpp"
#include "form/plan_check.hpp"
#include "form/search.hpp"
#include "geometry/polyline.hpp"

namespace skewback {
namespace {

constexpr int kSmoothings = 2;  // of the membrane forces
constexpr double kAcross = 10;  // weight of phi's slope across the flow

void take_forces(const FoundNet& found, Form& form) {
  form.load_n = found.load_n;
  double whole = 0;
  for (double p : found.load_n) whole += p;
  const std::vector<Vec3> rest = unbalanced(found.net, as_forces(found.load_n));
  form.reaction_n.assign(rest.size(), Vec3::Zero());
  for (std::size_t i = 0; i < rest.size(); ++i) {
    if (found.net.fixed[i])
      form.reaction_n[i] = -rest[i];
    else
      form.residual_rel = std::max(form.residual_rel, rest[i].norm() / whole);
  }
  for (const NetEdge& e : form.edges)
    form.tension_max_n =
        std::max(form.tension_max_n, -e.q * (form.vertices[e.a] - form.vertices[e.b]).norm());
}

// Equilibrium may move the inside of the plan, but must not fold it.
std::optional<Fault> folded(const Form& form) {
  for (std::size_t t = 0; t < form.triangles.size(); ++t) {
    if (plan_area(form, t) > 0) continue;
    const Vec3& p = form.vertices[form.triangles[t][0]];
    char place[64];
    std::snprintf(place, sizeof place, "(%.3f, %.3f)", p.x(), p.y());
    Fault fault;
    fault.key = "form: equilibrium";
    fault.found = std::string("a surface that folds over in plan at ") + place;
    fault.expected = "a plan that compression alone can hold near where it is drawn";
    fault.change = "curve the free edges near that place inward more evenly, or move plan.meeting";
    return fault;
  }
  return std::nullopt;
}

void measure_thrust(int supports, Form& form) {
  std::vector<Vec3> sum(supports, Vec3::Zero());
  for (std::size_t i = 0; i < form.vertices.size(); ++i)
    if (form.support_of[i] >= 0) sum[form.support_of[i]] += form.reaction_n[i];
  for (const Vec3& r : sum) form.thrust_max_n = std::max(form.thrust_max_n, r.head<2>().norm());
}

// Distances of free edges from where they were drawn, and the largest move of the meeting point.
void measure_fit(const Plan& plan, const FibreMesh& mesh, Form& form) {
  std::vector<std::vector<Vec2>> drawn;
  for (std::size_t e = 0; e < plan.free_edges.size() + plan.openings.size(); ++e)
    drawn.push_back(drawn_edge(plan, int(e)));
  double squares = 0, count = 0;
  for (std::size_t i = 0; i < form.vertices.size(); ++i) {
    const Vec2 p = form.vertices[i].head<2>();
    if (at_meeting(mesh, int(i)))
      form.plan_shift_max_m = std::max(form.plan_shift_max_m, (p - mesh.points[i]).norm());
    if (mesh.free_edge_of[i] < 0) continue;
    const double d = nearest(drawn[mesh.free_edge_of[i]], p).distance;
    form.plan_shift_max_m = std::max(form.plan_shift_max_m, d);
    squares += d * d;
    count += 1;
  }
  form.fit_rms_m = count > 0 ? std::sqrt(squares / count) : 0;
}

std::optional<SpineField> spine_field(const FibreMesh& mesh, const Form& form) {
  if (!mesh.spine) return std::nullopt;
  SpineField out;
  for (std::size_t t = 0; t < form.triangles.size(); ++t)
    out.half.push_back(mesh.spine->half_of_quad[t / 2]);  // two triangles a quad
  out.middle.assign(form.vertices.size(), 0);
  for (int v : mesh.spine->middle) out.middle[v] = 1;
  out.meeting = {mesh.spine->chain.front(), mesh.spine->chain.back()};
  const Vec2 way =
      (form.vertices[out.meeting[1]] - form.vertices[out.meeting[0]]).head<2>().normalized();
  out.to_middle = {way, -way};
  return out;
}

void take_flow(int supports, const std::optional<SpineField>& spine, Form& form) {
  Flow flow = flow_of_weight(form, membrane_forces(form, kSmoothings));
  if (spine) turn_to_meetings(*spine, flow);
  form.flow = flow.direction;
  for (const Vec2& v : flow.weight) form.flow_strength.push_back(v.norm());
  form.arm = watershed(form, flow, supports, spine);
  PhiField field = fit_phi(form, flow, supports, kAcross, spine);
  form.spine_arms = spine ? 2 : 0;
  form.phi = std::move(field.phi);
  form.arms = std::move(field.arms);
}

}  // namespace

namespace {

using Search =
    std::function<Result<FoundNet>(const FibreMesh&, const std::vector<std::array<int, 3>>&)>;

Result<Form> form_on(const Brief& brief, const FibreMesh& mesh, const Search& search) {
  Form form;
  form.triangles = triangles_of(mesh);
  form.support_of = mesh.support_of;
  form.free_edge_of = mesh.free_edge_of;
  if (Faults faults = check_objectives(brief, mesh, form.triangles); !faults.empty()) return faults;
  const auto found = search(mesh, form.triangles);
  if (!found) return found.faults();
  form.vertices = found->net.points;
  form.edges = found->net.edges;
  form.cost = found->cost;
  form.by_load_path = found->by_load_path;
  form.plain_kept = found->plain_kept;
  if (auto fold = folded(form)) return *fold;
  const int supports = int(brief.plan.supports.size());
  double level = 0;
  for (const Support& s : brief.plan.supports) level += s.level_m / supports;
  form.rise_asked_m = brief.form.rise_m;
  form.rise_m = mean_height(form.vertices, mesh.crown) - level;
  take_forces(*found, form);
  measure_thrust(supports, form);
  measure_fit(brief.plan, mesh, form);
  form.achieved = achievements(brief, mesh, form);
  form.unevenness_rel = unevenness(mesh, form);
  take_flow(supports, spine_field(mesh, form), form);
  return form;
}

// A meeting of which the mesh does not fold, where there is one.
Faults with_meeting(const Brief& brief, Faults faults) {
  if (brief.plan.second_meeting) return faults;
  if (!brief.plan.openings.empty())
    return with_openings_moved(pulled_taut(brief.plan), brief.section, brief.form.mesh_size_m,
                               std::move(faults));
  const auto sound = [&](const Vec2& place) {
    Plan with = brief.plan;
    with.meeting = place;
    return fibre_mesh(pulled_taut(with), brief.form.mesh_size_m).ok();
  };
  if (const auto place = meeting_for(brief.plan, sound))
    faults.front().change = as_written(*place) + " under [plan]: the mesh does not fold there";
  return faults;
}

}  // namespace

Result<Form> find_form(const Brief& brief, const std::vector<double>& vertex_load_n,
                       const Progress& progress) {
  if (Faults faults = check_plan(brief.plan, brief.section); !faults.empty()) return faults;
  const auto mesh = fibre_mesh(pulled_taut(brief.plan), brief.form.mesh_size_m);
  if (!mesh) return with_meeting(brief, mesh.faults());
  assert(vertex_load_n.empty() || vertex_load_n.size() == mesh->points.size());
  return form_on(brief, *mesh, [&](const FibreMesh& net, const auto& triangles) {
    return find_net(brief, net, triangles, vertex_load_n, progress);
  });
}

std::optional<Result<Form>> follow_form(const Brief& brief, const Form& before,
                                        const std::vector<double>& vertex_load_n,
                                        const FollowOptions& options) {
  if (has_wishes(brief.form)) return std::nullopt;
  if (Faults faults = check_plan(brief.plan, brief.section); !faults.empty())
    return Result<Form>(std::move(faults));
  const auto mesh = fibre_mesh(pulled_taut(brief.plan), brief.form.mesh_size_m);
  if (!mesh) return Result<Form>(mesh.faults());
  const auto same_edge = [](const MeshEdge& a, const NetEdge& b) {
    return a.a == b.a && a.b == b.b && a.free_edge == b.free_edge;
  };
  if (mesh->points.size() != before.vertices.size() ||
      mesh->points.size() != vertex_load_n.size() ||
      !std::equal(mesh->edges.begin(), mesh->edges.end(), before.edges.begin(), before.edges.end(),
                  same_edge))
    return std::nullopt;
  return form_on(brief, *mesh, [&](const FibreMesh& net, const auto&) {
    return plain::follow_net(brief, net, before.edges, vertex_load_n, options.steps);
  });
}

bool has_wishes(const FormRequest& asked) {
  return !asked.heights.empty() || !asked.stay_under.empty() || !asked.thrusts.empty() ||
         !asked.target.triangles.empty() || asked.edge_distance_m > 0 || asked.evenness != 1;
}

std::vector<Vec2> drawn_edge(const Plan& plan, int free_edge) {
  const int outer = int(plan.free_edges.size());
  return free_edge < outer ? plan.free_edges[free_edge].line
                           : loop_of(plan.openings[free_edge - outer]);
}

ForcePolygon force_polygon(const Form& form, int vertex) {
  struct Ray {
    double angle;
    Vec3 force;
  };
  std::vector<Ray> rays;
  for (const NetEdge& e : form.edges) {
    if (e.a != vertex && e.b != vertex) continue;
    const Vec3 away = form.vertices[e.a == vertex ? e.b : e.a] - form.vertices[vertex];
    rays.push_back({std::atan2(away.y(), away.x()), -e.q * away});
  }
  std::stable_sort(rays.begin(), rays.end(),
                   [](const Ray& a, const Ray& b) { return a.angle < b.angle; });
  ForcePolygon out;
  out.vertex = vertex;
  for (const Ray& ray : rays) out.forces.push_back(ray.force);
  out.forces.emplace_back(0, 0, -form.load_n[vertex]);
  if (form.support_of[vertex] >= 0) out.forces.push_back(form.reaction_n[vertex]);
  Vec3 sum = Vec3::Zero();
  double greatest = 0;
  for (const Vec3& f : out.forces) {
    sum += f;
    greatest = std::max(greatest, f.norm());
  }
  out.closure_rel = greatest > 0 ? sum.norm() / greatest : 0;
  return out;
}

}  // namespace skewback
