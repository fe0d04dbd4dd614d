// The first stretch of a block's way out of its place, past those that are there.
#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <set>

#include "erect/lifting_parts.hpp"

namespace skewback {
namespace {

constexpr double kShrink_m = 0.001;  // what touches, or lies on a pad, is not in the way
constexpr std::array<double, 9> kSteps_m = {0.004, 0.01, 0.02, 0.04, 0.08, 0.15, 0.25, 0.37, 0.5};
static_assert(kSteps_m.back() == kEntry_m);

struct Box {
  Vec3 low = Vec3::Constant(1e300), high = Vec3::Constant(-1e300);
  void add(const Vec3& p) {
    low = low.cwiseMin(p);
    high = high.cwiseMax(p);
  }
};
bool apart(const Box& a, const Box& b) {
  return (a.low.array() > b.high.array()).any() || (b.low.array() > a.high.array()).any();
}

struct Edge {
  Vec3 a, b;
};
struct Triangle {
  Vec3 a, b, c;
  Box box;
};
struct Hull {
  std::vector<Edge> edges;
  std::vector<Triangle> triangles;
  Box box;
};

/// Corners drawn in by kShrink_m along the mean of the normals that meet there.
std::vector<Vec3> shrunk(const Solid& solid) {
  std::vector<Vec3> normals(solid.vertices.size(), Vec3::Zero());
  for (const auto& face : solid.faces) {
    Vec3 twice = Vec3::Zero();
    for (std::size_t k = 2; k < face.size(); ++k) {
      twice += (solid.vertices[face[k - 1]] - solid.vertices[face[0]])
                   .cross(solid.vertices[face[k]] - solid.vertices[face[0]]);
    }
    if (twice.norm() > 0) {
      for (const int v : face) normals[v] += twice.normalized();
    }
  }
  std::vector<Vec3> points = solid.vertices;
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (normals[i].norm() > 1e-6) points[i] -= kShrink_m * normals[i].normalized();
  }
  return points;
}

Hull hull_of(const Solid& solid, const std::vector<Vec3>& points) {
  Hull hull;
  std::set<std::pair<int, int>> seen;
  for (const auto& face : solid.faces) {
    for (std::size_t k = 0; k < face.size(); ++k) {
      const int p = face[k], q = face[(k + 1) % face.size()];
      if (seen.insert(std::minmax(p, q)).second) hull.edges.push_back({points[p], points[q]});
    }
    for (std::size_t k = 2; k < face.size(); ++k) {
      Triangle t{points[face[0]], points[face[k - 1]], points[face[k]], {}};
      for (const Vec3& p : {t.a, t.b, t.c}) t.box.add(p);
      hull.triangles.push_back(t);
    }
  }
  for (const Vec3& p : points) hull.box.add(p);
  return hull;
}

/// Does the piece a-b go through the triangle (Moeller and Trumbore 1997)?
bool pierces(const Vec3& a, const Vec3& b, const Triangle& t) {
  const Vec3 way = b - a, e1 = t.b - t.a, e2 = t.c - t.a, p = way.cross(e2);
  const double det = e1.dot(p);
  if (std::abs(det) < 1e-15) return false;
  const Vec3 s = a - t.a, q = s.cross(e1);
  const double u = s.dot(p) / det, v = way.dot(q) / det, at = e2.dot(q) / det;
  return u >= 0 && v >= 0 && u + v <= 1 && at >= 0 && at <= 1;
}

bool any_pierces(const Hull& edges, const Vec3& shift, const Hull& other) {
  for (const Edge& edge : edges.edges) {
    const Vec3 a = edge.a + shift, b = edge.b + shift;
    Box box;
    box.add(a);
    box.add(b);
    if (apart(box, other.box)) continue;
    for (const Triangle& t : other.triangles) {
      if (!apart(box, t.box) && pierces(a, b, t)) return true;
    }
  }
  return false;
}

/// Surfaces that cross: an edge of one goes through a face of the other.
bool cross(const Hull& a, const Vec3& shift, const Hull& b) {
  Box box = a.box;
  box.low += shift;
  box.high += shift;
  if (apart(box, b.box)) return false;
  return any_pierces(a, shift, b) || any_pierces(b, -shift, a);
}

struct Met {
  std::string who;
  double at_m = 0;
};
std::optional<Met> met_on(const Hull& hull, const Vec3& way, const std::vector<Hull>& others,
                          const std::vector<std::string>& names) {
  for (std::size_t i = 0; i < others.size(); ++i) {
    for (const double step : kSteps_m) {
      if (cross(hull, step * way, others[i])) return Met{names[i], step};
    }
  }
  return std::nullopt;
}

}  // namespace

std::string way_in(const Assembly& assembly, const std::vector<char>& placed, const Entry& entry) {
  if (entry.margin < -kSlides) return stuck_words(assembly, entry);
  const Solid& solid = assembly.blocks[entry.block].solid;
  const Hull hull = hull_of(solid, shrunk(solid));
  Box about;
  about.add(hull.box.low - Vec3::Constant(kEntry_m));
  about.add(hull.box.high + Vec3::Constant(kEntry_m));
  std::vector<Hull> others;
  std::vector<std::string> names;
  for (std::size_t i = 0; i < assembly.blocks.size(); ++i) {
    const Block& block = assembly.blocks[i];
    if (placed[i] == 0 || static_cast<int>(i) == entry.block) continue;
    Box box;
    for (const Vec3& v : block.solid.vertices) box.add(v);
    if (apart(about, box)) continue;
    others.push_back(hull_of(block.solid, block.solid.vertices));
    names.push_back(block.id);
  }
  // straight out of its joints, or leaning more and more upward
  std::optional<Met> first;
  for (const double lift : {0.0, 0.5, 1.0, 2.0, 5.0}) {
    const Vec3 way = entry.direction + lift * Vec3::UnitZ();
    if (way.norm() < 1e-6) continue;
    const std::optional<Met> met = met_on(hull, way.normalized(), others, names);
    if (!met) return {};
    if (!first) first = met;
  }
  return first->who + " is in the way, " + std::to_string(std::lround(1000 * first->at_m)) +
         " mm out of its place";
}

}  // namespace skewback
