#include "assembly/contact_mesh.hpp"

#include <map>

namespace skewback {
namespace {

class Refinement {
 public:
  Refinement(ContactMesh& mesh, double most) : mesh_(mesh), most_(most) {}

  void add(const std::array<int, 3>& triangle) {
    int longest = 0;
    double length = 0;
    for (int i = 0; i < 3; ++i) {
      const double l = (at(triangle[i]) - at(triangle[(i + 1) % 3])).norm();
      if (l > length * (1 + 1e-9)) {
        length = l;
        longest = i;
      }
    }
    if (length <= most_) {
      mesh_.triangles.push_back(triangle);
      return;
    }
    const int a = triangle[longest], b = triangle[(longest + 1) % 3],
              c = triangle[(longest + 2) % 3], m = middle(a, b);
    add({a, m, c});
    add({m, b, c});
  }

 private:
  [[nodiscard]] const Vec2& at(int i) const { return mesh_.points[static_cast<std::size_t>(i)]; }
  int middle(int a, int b) {
    const auto [found, fresh] =
        middles_.try_emplace(std::minmax(a, b), static_cast<int>(mesh_.points.size()));
    if (fresh) mesh_.points.push_back((at(a) + at(b)) / 2);
    return found->second;
  }

  ContactMesh& mesh_;
  double most_;
  std::map<std::pair<int, int>, int> middles_;
};

constexpr double kLostShare = 3e-3;  // of the area

/// Drops the corner whose triangle with its neighbours is smallest, while `budget` lasts.
Polygon thinned(Polygon ring, double& budget) {
  while (ring.size() > 4) {
    const std::size_t n = ring.size();
    std::size_t least = 0;
    double least_area = 1e300;
    for (std::size_t i = 0; i < n; ++i) {
      const Vec2 u = ring[(i + n - 1) % n] - ring[i], v = ring[(i + 1) % n] - ring[i];
      const double area = std::abs(u.x() * v.y() - u.y() * v.x()) / 2;
      if (area < least_area) {
        least_area = area;
        least = i;
      }
    }
    if (least_area > budget) break;
    budget -= least_area;
    ring.erase(ring.begin() + static_cast<std::ptrdiff_t>(least));
  }
  return ring;
}

Region thinned(const Region& region, double share) {
  const double each = share * area(region) / (1 + static_cast<double>(region.holes.size()));
  Region out;
  double budget = each;
  out.outer = thinned(region.outer, budget);
  for (const Polygon& hole : region.holes) {
    budget = each;
    out.holes.push_back(thinned(hole, budget));
  }
  return out;
}

TriangleMesh2 triangles_of(const Region& region) {
  TriangleMesh2 mesh = triangulate(thinned(region, kLostShare));
  return mesh.triangles.empty() ? triangulate(region) : mesh;
}

}  // namespace

ContactMesh mesh_contact(const Regions& contact, double edge_most_m) {
  ContactMesh mesh;
  for (const Region& region : contact) {
    const TriangleMesh2 coarse = triangles_of(region);
    if (coarse.triangles.empty()) return {};
    const int first = static_cast<int>(mesh.points.size());
    mesh.points.insert(mesh.points.end(), coarse.vertices.begin(), coarse.vertices.end());
    Refinement refinement(mesh, edge_most_m);
    for (const auto& t : coarse.triangles) {
      refinement.add({first + t[0], first + t[1], first + t[2]});
    }
  }
  return mesh;
}

}  // namespace skewback
