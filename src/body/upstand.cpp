#include "body/upstand.hpp"

#include <algorithm>
#include <map>

namespace skewback {
namespace {

constexpr double kInside = 1e-3;  // m: a face of the rib in one of the shell's cannot be clipped

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// The vertices of a free edge from its first support to its second.
std::vector<int> chain_of(const Form& form, int free_edge, int from) {
  std::map<int, std::vector<int>> beside;
  for (const NetEdge& e : form.edges) {
    if (e.free_edge != free_edge) continue;
    beside[e.a].push_back(e.b);
    beside[e.b].push_back(e.a);
  }
  std::vector<int> chain;
  for (const auto& [v, others] : beside)
    if (others.size() == 1 && form.support_of[at(v)] == from) chain.push_back(v);
  if (chain.size() != 1) return {};
  for (int before = -1, v = chain[0];;) {
    int next = -1;
    for (int other : beside[v])
      if (other != before) next = other;
    if (next < 0) return chain;
    chain.push_back(next);
    before = v;
    v = next;
  }
}

/// Per vertex of a chain: whether its leg's parapets work.
std::vector<char> working(const Brief& brief, const Form& form, const std::vector<int>& chain) {
  std::map<int, std::map<int, int>> arms;  // vertex, arm, triangles
  for (std::size_t t = 0; t < form.triangles.size(); ++t)
    for (int v : form.triangles[t]) ++arms[v][form.arm[t]];
  std::vector<char> out;
  for (int v : chain) {
    bool works = true;
    for (const auto& [arm, count] : arms[v]) works = works && brief.parapet.works_on(arm);
    out.push_back(works ? 1 : 0);
  }
  return out;
}

/// Towards the plan's inside, square to the edge.
Vec3 inward(const Form& form, int v, const Vec3& along, const Vec3& up) {
  const Vec3 side = up.cross(along).normalized();
  Vec3 middle = Vec3::Zero();
  double count = 0;
  for (const auto& t : form.triangles)
    if (t[0] == v || t[1] == v || t[2] == v)
      for (int c : t) middle += form.vertices[at(c)], count += 1;
  return (middle / count - form.vertices[at(v)]).dot(side) >= 0 ? side : Vec3(-side);
}

}  // namespace

std::vector<Solid> upstands(const Brief& brief, const Form& form,
                            const std::vector<Plane>& springing, const std::vector<Vec3>& normal,
                            const std::vector<Vec3>& extrados, const std::vector<double>& depth_m,
                            double past_m) {
  const Parapet& parapet = brief.parapet;
  const double inset = std::max(parapet.inset_m, parapet.upstand_width_m / 2 + kInside);
  std::vector<Solid> out;
  for (std::size_t k = 0; k < brief.plan.free_edges.size(); ++k) {
    const std::vector<int> chain =
        chain_of(form, static_cast<int>(k), brief.plan.free_edges[k].from);
    const std::vector<char> works = working(brief, form, chain);
    std::vector<std::vector<Vec3>> rings;
    const auto close = [&] {
      if (rings.size() > 2) out.push_back(skin(rings));
      rings.clear();
    };
    for (std::size_t i = 0; i < chain.size(); ++i) {
      if (works[i] == 0) {
        close();
        continue;
      }
      const int v = chain[i];
      const Vec3 along = (form.vertices[at(chain[std::min(i + 1, chain.size() - 1)])] -
                          form.vertices[at(chain[i == 0 ? 0 : i - 1])])
                             .normalized();
      const Vec3 up = normal[at(v)], in = inward(form, v, along, up);
      const Vec3 base = extrados[at(v)] + inset * in;
      const double sink = std::min(0.3 * depth_m[at(v)], 0.08);
      std::vector<Vec3> ring;
      // counter-clockwise for an eye before the chain looking along it: x = in or out, y = up
      const double turn = in.cross(up).dot(along) < 0 ? 1 : -1;
      for (const auto& [x, y] : {std::pair{-1.0, -sink},
                                 {1.0, -sink},
                                 {1.0, parapet.upstand_height_m},
                                 {-1.0, parapet.upstand_height_m}})
        ring.push_back(base + turn * x * parapet.upstand_width_m / 2 * in + y * up);
      if (const int s = form.support_of[at(v)]; s >= 0) {  // carried behind the bed
        const Plane end = springing[at(s)].moved(-past_m);
        std::vector<Vec3> beyond;
        for (const Vec3& p : ring)
          beyond.push_back(p - end.distance(p) / end.normal.dot(along) * along);
        if (i == 0) {
          rings.push_back(beyond);
          rings.push_back(ring);
        } else {
          rings.push_back(ring);
          rings.push_back(beyond);
        }
      } else {
        rings.push_back(ring);
      }
    }
    close();
  }
  return out;
}

}  // namespace skewback
