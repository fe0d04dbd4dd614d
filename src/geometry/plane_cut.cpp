#include "geometry/plane_cut.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace skewback {
namespace {

constexpr double kClose = 1e-6;  // m; nearer the plane than this is not for plain arithmetic

using Triangle = std::array<int, 3>;
std::size_t at(int i) { return static_cast<std::size_t>(i); }

class PlaneCut {
 public:
  PlaneCut(const Solid& solid, const Plane& plane)
      : plane_(plane), frame_(frame_on(plane)), points_(solid.vertices) {
    for (const Vec3& p : points_) distance_.push_back(plane.distance(p));
  }

  [[nodiscard]] bool divide(const std::vector<std::vector<int>>& faces) {
    for (const double d : distance_)
      if (std::abs(d) < kClose) return false;
    for (const std::vector<int>& face : faces) {
      if (face.size() != 3) return false;
      if (!divide({face[0], face[1], face[2]})) return false;
    }
    return next_.empty() || cap();
  }

  [[nodiscard]] std::pair<Solid, Solid> parts() const { return {packed(behind_), packed(ahead_)}; }

 private:
  [[nodiscard]] bool is_behind(int v) const { return distance_[at(v)] < 0; }

  [[nodiscard]] bool divide(const Triangle& t) {
    const int count = int(is_behind(t[0])) + int(is_behind(t[1])) + int(is_behind(t[2]));
    if (count == 3 || count == 0) {
      (count == 3 ? behind_ : ahead_).push_back(t);
      return true;
    }
    std::size_t i = 0;  // the corner that is alone on its side
    while (is_behind(t[i]) != (count == 1)) ++i;
    const int lone = t[i], m = t[(i + 1) % 3], n = t[(i + 2) % 3];
    const int p = on_edge(lone, m), q = on_edge(lone, n);
    auto& near = count == 1 ? behind_ : ahead_;
    auto& far = count == 1 ? ahead_ : behind_;
    near.push_back({lone, p, q});
    far.push_back({p, m, n});
    far.push_back({p, n, q});
    // the ring of the part behind runs against its own faces
    return next_.insert(count == 1 ? std::pair{q, p} : std::pair{p, q}).second;
  }

  int on_edge(int a, int b) {
    const auto [it, fresh] =
        on_edge_.try_emplace(std::minmax(a, b), static_cast<int>(points_.size()));
    if (fresh) {
      const auto [low, high] = it->first;
      const double d = distance_[at(low)], e = distance_[at(high)];
      const Vec3 p = points_[at(low)] + d / (d - e) * (points_[at(high)] - points_[at(low)]);
      points_.push_back(p - plane_.distance(p) * plane_.normal);
    }
    return it->second;
  }

  struct Ring {
    std::vector<int> vertices;
    Polygon line;
  };

  [[nodiscard]] bool take_rings(std::vector<Ring>& outer, std::vector<Ring>& holes) {
    while (!next_.empty()) {
      Ring ring;
      const int first = next_.begin()->first;
      for (int v = first;;) {
        const auto step = next_.find(v);
        if (step == next_.end()) return false;
        ring.vertices.push_back(v);
        const Vec3 local = frame_.to_local(points_[at(v)]);
        ring.line.emplace_back(local.x(), local.y());
        v = step->second;
        next_.erase(step);
        if (v == first) break;
      }
      if (ring.vertices.size() < 3) return false;
      (area(ring.line) > 0 ? outer : holes).push_back(std::move(ring));
    }
    return true;
  }

  [[nodiscard]] bool cap() {
    std::vector<Ring> outer, holes;
    if (!take_rings(outer, holes)) return false;
    std::vector<Region> regions;
    std::vector<std::vector<int>> vertices;
    for (const Ring& ring : outer) {
      regions.push_back({ring.line, {}});
      vertices.push_back(ring.vertices);
    }
    for (const Ring& hole : holes) {
      std::size_t in = outer.size();  // the least ring around it
      for (std::size_t r = 0; r < outer.size(); ++r)
        if (contains({outer[r].line, {}}, hole.line.front()) &&
            (in == outer.size() || area(outer[r].line) < area(outer[in].line)))
          in = r;
      if (in == outer.size()) return false;
      regions[in].holes.push_back(hole.line);
      vertices[in].insert(vertices[in].end(), hole.vertices.begin(), hole.vertices.end());
    }
    for (std::size_t r = 0; r < regions.size(); ++r) {
      const TriangleMesh2 mesh = triangulate(regions[r]);
      // of rings with n corners in all and h holes: n - 2 + 2 h triangles
      if (mesh.triangles.size() != vertices[r].size() - 2 + 2 * regions[r].holes.size())
        return false;
      for (const Triangle& t : mesh.triangles) {
        const int a = vertices[r][at(t[0])], b = vertices[r][at(t[1])], c = vertices[r][at(t[2])];
        behind_.push_back({a, b, c});
        ahead_.push_back({c, b, a});
      }
    }
    return true;
  }

  [[nodiscard]] Solid packed(const std::vector<Triangle>& triangles) const {
    std::vector<int> number(points_.size(), -1);
    Solid out;
    out.faces.reserve(triangles.size());
    for (const Triangle& t : triangles) {
      for (const int v : t) {
        if (number[at(v)] >= 0) continue;
        number[at(v)] = static_cast<int>(out.vertices.size());
        out.vertices.push_back(points_[at(v)]);
      }
      out.faces.push_back({number[at(t[0])], number[at(t[1])], number[at(t[2])]});
    }
    return out;
  }

  const Plane plane_;
  const Frame frame_;
  std::vector<Vec3> points_;
  std::vector<double> distance_;  // of the vertices given
  std::vector<Triangle> behind_, ahead_;
  std::map<std::pair<int, int>, int> on_edge_;
  std::map<int, int> next_;  // along the section, seen against the normal's way: of the part behind
};

}  // namespace

std::optional<std::pair<Solid, Solid>> split_plainly(const Solid& solid, const Plane& plane) {
  PlaneCut cut(solid, plane);
  if (!cut.divide(solid.faces)) return std::nullopt;
  return cut.parts();
}

}  // namespace skewback
