#include "body/body.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>
#include <optional>

#include "base/constants.hpp"
#include "body/ease.hpp"
#include "body/sized.hpp"
#include "body/upstand.hpp"
#include "brief/profile.hpp"
#include "geometry/crossings.hpp"

namespace skewback {
namespace {

constexpr double kBeyond = 0.1;  // m a ribbed shell is carried past its beds before they are cut
constexpr int kEasings = 12, kEasePasses = 3;  // of normals near where the shell crosses itself
constexpr double kTurnMost =
    30;  // degrees they may turn by: depth laid off so is 0.87 of it square

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// phi over the largest phi of its arm, averaged over the triangle corners that meet at a vertex.
std::vector<double> share_of_flow(const Form& form) {
  const std::vector<double> top = greatest_phi(form);
  std::vector<double> sum(form.vertices.size(), 0), count(form.vertices.size(), 0);
  for (std::size_t t = 0; t < form.triangles.size(); ++t) {
    for (std::size_t c = 0; c < 3; ++c) {
      sum[at(form.triangles[t][c])] += form.phi[t][c] / top[at(form.arm[t])];
      count[at(form.triangles[t][c])] += 1;
    }
  }
  for (std::size_t v = 0; v < sum.size(); ++v)
    sum[v] = std::clamp(sum[v] / std::max(count[v], 1.0), 0.0, 1.0);
  return sum;
}

std::vector<Vec3> vertex_normals(const Form& form) {
  std::vector<Vec3> n(form.vertices.size(), Vec3::Zero());
  for (const auto& t : form.triangles) {
    const Vec3 &a = form.vertices[at(t[0])], &b = form.vertices[at(t[1])],
               &c = form.vertices[at(t[2])];
    const Vec3 twice = (b - a).cross(c - a);
    for (int v : t) n[at(v)] += twice;
  }
  for (Vec3& v : n) v.normalize();
  return n;
}

using Triangles = std::vector<std::array<int, 3>>;

/// Directed boundary edges of a triangle mesh.
std::vector<std::pair<int, int>> boundary(const Triangles& triangles) {
  std::map<std::pair<int, int>, int> seen;
  for (const auto& t : triangles) {
    for (std::size_t i = 0; i < 3; ++i) ++seen[{t[i], t[(i + 1) % 3]}];
  }
  std::vector<std::pair<int, int>> out;
  for (const auto& [edge, count] : seen) {
    if (seen.find({edge.second, edge.first}) == seen.end()) out.push_back(edge);
  }
  return out;
}

/// At a support the shell ends square on its bed: across it, the depth is laid off in the bed's
/// plane.
void square_on_beds(const Form& form, const std::vector<Plane>& beds, std::vector<Vec3>& normal) {
  for (std::size_t v = 0; v < normal.size(); ++v) {
    if (form.support_of[v] >= 0) normal[v] = frame_on(beds[at(form.support_of[v])]).y;
  }
}

/// Carries the shell half a pad past every springing plane.
void carry_to_footings(const Form& form, const std::vector<Plane>& beds, double half_pad,
                       Triangles& triangles, std::vector<Vec3>& low, std::vector<Vec3>& high) {
  if (half_pad <= 0) return;
  std::map<int, int> twin;
  const auto carried = [&](int v) {
    const auto [it, fresh] = twin.try_emplace(v, static_cast<int>(low.size()));
    if (fresh) {
      const Vec3 step = -half_pad * beds[at(form.support_of[at(v)])].normal;
      low.push_back(low[at(v)] + step);
      high.push_back(high[at(v)] + step);
    }
    return it->second;
  };
  for (const auto& [a, b] : boundary(triangles)) {
    if (form.support_of[at(a)] < 0 || form.support_of[at(a)] != form.support_of[at(b)]) continue;
    const int ta = carried(a), tb = carried(b);
    triangles.push_back({b, a, ta});
    triangles.push_back({b, ta, tb});
  }
}

Solid shell(const Triangles& triangles, const std::vector<Vec3>& low,
            const std::vector<Vec3>& high) {
  Solid s;
  s.vertices = high;
  s.vertices.insert(s.vertices.end(), low.begin(), low.end());
  const int n = static_cast<int>(high.size());
  for (const auto& t : triangles) {
    s.faces.push_back({t[0], t[1], t[2]});
    s.faces.push_back({t[2] + n, t[1] + n, t[0] + n});
  }
  for (const auto& [a, b] : boundary(triangles)) {
    s.faces.push_back({b, a, a + n});
    s.faces.push_back({b, a + n, b + n});
  }
  return s;
}

/// The shell and its upstands as one, cut half a pad behind the springing planes.
Result<Solid> with_upstands(const Brief& brief, const Body& body, double half_pad) {
  Solid whole = body.outer;
  for (const Solid& rib : upstands(brief, body.form, body.springing, body.normal, body.extrados,
                                   body.depth_m, half_pad + kBeyond / 2)) {
    Result<Solid> next = unite(whole, rib);
    if (!next) {
      return Fault{.key = "parapet.working",
                   .found = "upstands that cannot be joined to the shell",
                   .expected = "an inset of more than half the upstand's width, on a smooth edge",
                   .change = "a greater parapet.inset or a smaller parapet.upstand_width"};
    }
    whole = std::move(next).value();
  }
  for (const Plane& bed : body.springing) {
    Result<Solid> next = clip(whole, bed.moved(-half_pad).opposite());
    if (!next) return next;
    whole = std::move(next).value();
  }
  return whole;
}

double triangle_area(const Vec3& a, const Vec3& b, const Vec3& c) {
  return (b - a).cross(c - a).norm() / 2;
}

double mean_triangle(const Form& form) {
  double sum = 0;
  for (const auto& t : form.triangles)
    sum += triangle_area(form.vertices[at(t[0])], form.vertices[at(t[1])], form.vertices[at(t[2])]);
  return sum / static_cast<double>(form.triangles.size());
}

void lay_off(Body& body) {
  for (std::size_t v = 0; v < body.normal.size(); ++v) {
    body.intrados[v] = body.form.vertices[v] - body.depth_m[v] / 2 * body.normal[v];
    body.extrados[v] = body.form.vertices[v] + body.depth_m[v] / 2 * body.normal[v];
  }
}

Solid shell_of(const Body& body, double carried) {
  Triangles triangles = body.form.triangles;
  std::vector<Vec3> low = body.intrados, high = body.extrados;
  carry_to_footings(body.form, body.springing, carried, triangles, low, high);
  return shell(triangles, low, high);
}

/// Share of the depth up to which the shell with the surface's own normals stays apart.
double depth_that_stays_apart(Body body, double carried) {
  const std::vector<double> depth = body.depth_m;
  for (double share = 0.95; share > 0.05; share -= 0.05) {
    for (std::size_t v = 0; v < depth.size(); ++v) body.depth_m[v] = share * depth[v];
    lay_off(body);
    const Result<std::vector<Vec3>> places = self_crossings(shell_of(body, carried));
    if (places && places->empty()) return share;
  }
  return 0;
}

Fault crossing_fault(const Body& drawn, double carried, const Vec3& place) {
  std::size_t nearest = 0;
  for (std::size_t v = 0; v < drawn.form.vertices.size(); ++v)
    if ((drawn.form.vertices[v] - place).norm() < (drawn.form.vertices[nearest] - place).norm())
      nearest = v;
  char found[160], change[160];
  std::snprintf(found, sizeof found,
                "a shell that crosses itself at (%.3f, %.3f, %.3f), where it is %.3f m deep",
                place.x(), place.y(), place.z(), drawn.depth_m[nearest]);
  const double share = depth_that_stays_apart(drawn, carried);
  if (share > 0)
    std::snprintf(change, sizeof change,
                  "no more than %.3f m of depth there, or a wider curve of the free edge",
                  share * drawn.depth_m[nearest]);
  else
    std::snprintf(change, sizeof change, "a wider curve of the free edge there");
  return {.key = "body",
          .found = found,
          .expected = "intrados and extrados that stay apart",
          .change = change};
}

/// Fills body.outer. Where the surface bends too sharply for its depth, normals turn towards those
/// round them until intrados and extrados stay apart.
std::optional<Fault> shell_that_stays_apart(double carried, Body& body) {
  const Body drawn = body;
  const double mesh = std::sqrt(2 * mean_triangle(body.form));
  const double reach = body.thickness_max_m + 2 * mesh;
  for (int easing = 0;; ++easing) {
    body.outer = shell_of(body, carried);
    const Result<std::vector<Vec3>> places = self_crossings(body.outer);
    if (!places) return places.faults().front();
    body.turned_deg = largest_turn_deg(drawn.normal, body.normal);
    if (places->empty() && body.turned_deg <= kTurnMost) return std::nullopt;
    if (easing == kEasings || body.turned_deg > kTurnMost) {
      const Result<std::vector<Vec3>> first = self_crossings(shell_of(drawn, carried));
      return crossing_fault(drawn, carried,
                            first && !first->empty() ? first->front() : Vec3::Zero());
    }
    ease_normals(body.form, *places, reach, kEasePasses, body.normal);
    lay_off(body);
  }
}

}  // namespace

Plane springing_plane(const Form& form, const Plan& plan, int support) {
  const Support& s = plan.supports[at(support)];
  Vec3 reaction = Vec3::Zero();
  for (std::size_t v = 0; v < form.vertices.size(); ++v) {
    if (form.support_of[v] == support) reaction += form.reaction_n[v];
  }
  const Vec2 line = (s.b - s.a).normalized();
  const Vec3 along(line.x(), line.y(), 0);
  const Vec2 middle = (s.a + s.b) / 2;
  return {Vec3(middle.x(), middle.y(), s.level_m),
          (reaction - reaction.dot(along) * along).normalized()};
}

Body sized_body(const Brief& brief, const Form& form) {
  Body body;
  body.form = form;
  body.section = brief.section;
  body.density = brief.material.density;
  for (int k = 0; k < static_cast<int>(brief.plan.supports.size()); ++k) {
    body.springing.push_back(springing_plane(form, brief.plan, k));
  }
  body.normal = vertex_normals(form);
  square_on_beds(form, body.springing, body.normal);
  const std::vector<double> share = share_of_flow(form);
  for (std::size_t v = 0; v < form.vertices.size(); ++v) {
    body.depth_m.push_back(brief.section.depth_springing_m +
                           (brief.section.depth_crown_m - brief.section.depth_springing_m) *
                               share[v]);
  }
  body.intrados.resize(form.vertices.size());
  body.extrados.resize(form.vertices.size());
  lay_off(body);
  body.thickness_min_m = *std::min_element(body.depth_m.begin(), body.depth_m.end());
  body.thickness_max_m = *std::max_element(body.depth_m.begin(), body.depth_m.end());
  return body;
}

Result<Body> give_body(const Brief& brief, const Form& form) {
  if (!brief.parapet.working.empty() && brief.joints.pad_thickness_m <= 0) {
    return Fault{.key = "parapet.working",
                 .found = "upstands on blocks that touch without pads",
                 .expected = "joints with pads: this version cannot cut upstands dry",
                 .change = "joints.pad_thickness = \"6 mm\", or carried parapets"};
  }
  Body body = sized_body(brief, form);
  const double half_pad = brief.joints.pad_thickness_m / 2;
  const bool ribbed = !brief.parapet.working.empty() && brief.parapet.upstand_height_m > 0;
  const double carried = ribbed ? half_pad + kBeyond : half_pad;
  if (const auto fault = shell_that_stays_apart(carried, body)) return *fault;
  if (ribbed) {
    Result<Solid> whole = with_upstands(brief, body, half_pad);
    if (!whole) return whole.faults();
    body.outer = std::move(whole).value();
  }
  body.outer_volume_m3 = mass_properties(body.outer).volume;
  return body;
}

double solid_fraction(const Section& section, double depth_m, double width_m) {
  if (!section.hollow) return 1;
  const double inner_width = width_m - 2 * section.leaf_m,
               inner_depth = depth_m - 2 * section.leaf_m;
  if (inner_width <= 0 || inner_depth <= 0) return 1;
  const int cells = tube_count(section, width_m);
  const double voids = (inner_width - (cells - 1) * section.web_m) * inner_depth;
  return 1 - std::max(voids, 0.0) / (depth_m * width_m);
}

int tube_count(const Section& section, double width_m) {
  const double inner = width_m - 2 * section.leaf_m;
  return std::max(
      1, static_cast<int>(std::ceil((inner + section.web_m) / section.web_spacing_m - 1e-9)));
}

std::vector<double> vertex_loads(const Brief& brief, const Body& body, const Regions& walkway,
                                 double fraction) {
  const Form& form = body.form;
  std::vector<double> load(form.vertices.size(), 0);
  for (const auto& t : form.triangles) {
    const Vec3 &a = form.vertices[at(t[0])], &b = form.vertices[at(t[1])],
               &c = form.vertices[at(t[2])];
    const double depth =
        (body.depth_m[at(t[0])] + body.depth_m[at(t[1])] + body.depth_m[at(t[2])]) / 3;
    const Vec3 middle = (a + b + c) / 3;
    const Regions plan{{{a.head<2>(), b.head<2>(), c.head<2>()}, {}}};
    const double walked = walkway.empty() ? 0 : area(intersect(plan, walkway));
    const double weight =
        triangle_area(a, b, c) * depth * fraction * body.density * kGravity +
        walked * (brief.walkway.weight_pa +
                  fill_pressure_pa(brief.walkway, middle.head<2>(), middle.z() + depth / 2));
    for (int v : t) load[at(v)] += weight / 3;
  }
  const double rib =
      brief.parapet.upstand_height_m * brief.parapet.upstand_width_m * body.density * kGravity;
  std::map<std::pair<int, int>, int> arm_beside;
  for (std::size_t t = 0; t < form.triangles.size(); ++t)
    for (std::size_t i = 0; i < 3; ++i)
      arm_beside[{form.triangles[t][i], form.triangles[t][(i + 1) % 3]}] = form.arm[t];
  for (const auto& [a, b] : boundary(form.triangles)) {
    if (form.support_of[at(a)] >= 0 && form.support_of[at(a)] == form.support_of[at(b)]) continue;
    const int edges = static_cast<int>(brief.plan.free_edges.size());
    if (form.free_edge_of[at(a)] >= edges && form.free_edge_of[at(b)] >= edges) continue;  // an eye
    const bool works = brief.parapet.works_on(arm_beside[{a, b}]);
    const double weight = works
                              ? rib * (form.vertices[at(b)] - form.vertices[at(a)]).norm()
                              : brief.parapet.weight_n_per_m *
                                    (form.vertices[at(b)] - form.vertices[at(a)]).head<2>().norm();
    load[at(a)] += weight / 2;
    load[at(b)] += weight / 2;
  }
  return load;
}

}  // namespace skewback
