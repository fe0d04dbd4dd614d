#include "assembly/overlap.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>

namespace skewback {
namespace {

struct Box {
  Vec3 low = Vec3::Constant(1e300), high = Vec3::Constant(-1e300);
  void add(const Vec3& p) {
    low = low.cwiseMin(p);
    high = high.cwiseMax(p);
  }
  [[nodiscard]] bool holds(const Vec3& p, double inside_by) const {
    return ((p - low).array() > inside_by).all() && ((high - p).array() > inside_by).all();
  }
};

Box box_of(const Solid& solid) {
  Box box;
  for (const Vec3& p : solid.vertices) box.add(p);
  return box;
}

template <class Visit>
void for_each_triangle(const Solid& solid, Visit visit) {
  const auto at = [&](int i) { return solid.vertices[static_cast<std::size_t>(i)]; };
  for (const auto& face : solid.faces) {
    for (std::size_t i = 1; i + 1 < face.size(); ++i) {
      visit(at(face[0]), at(face[i]), at(face[i + 1]));
    }
  }
}

/// Turns of the surface round p: 1 inside, 0 outside.
double winding(const Solid& solid, const Vec3& p) {
  double angle = 0;
  for_each_triangle(solid, [&](const Vec3& u, const Vec3& v, const Vec3& w) {
    const Vec3 a = u - p, b = v - p, c = w - p;
    const double la = a.norm(), lb = b.norm(), lc = c.norm();
    angle += 2 * std::atan2(a.dot(b.cross(c)),
                            la * lb * lc + a.dot(b) * lc + b.dot(c) * la + c.dot(a) * lb);
  });
  return angle / (4 * 3.14159265358979323846);
}

/// Distance to a triangle, at least that to its plane where the foot lies on it, else to its edges.
double distance(const Vec3& p, const Vec3& a, const Vec3& b, const Vec3& c) {
  const auto to_edge = [&](const Vec3& u, const Vec3& v) {
    const Vec3 e = v - u;
    const double t = std::clamp((p - u).dot(e) / std::max(e.squaredNorm(), 1e-300), 0.0, 1.0);
    return (p - u - t * e).norm();
  };
  const Vec3 normal = (b - a).cross(c - a);
  const auto side = [&](const Vec3& u, const Vec3& v) {
    return (v - u).cross(p - u).dot(normal) >= 0;
  };
  if (normal.norm() > 0 && side(a, b) && side(b, c) && side(c, a)) {
    return std::abs((p - a).dot(normal)) / normal.norm();
  }
  return std::min({to_edge(a, b), to_edge(b, c), to_edge(c, a)});
}

double depth_in(const Solid& solid, const Vec3& p) {
  double nearest = 1e300;
  for_each_triangle(solid, [&](const Vec3& a, const Vec3& b, const Vec3& c) {
    nearest = std::min(nearest, distance(p, a, b, c));
  });
  return nearest;
}

std::vector<Vec3> samples_of(const Block& block) {
  std::vector<Vec3> points = block.solid.vertices;
  const auto at = [&](int i) { return block.solid.vertices[static_cast<std::size_t>(i)]; };
  for (const auto& face : block.solid.faces) {
    Vec3 middle = Vec3::Zero();
    for (std::size_t i = 0; i < face.size(); ++i) {
      const Vec3 a = at(face[i]), b = at(face[(i + 1) % face.size()]);
      middle += a / static_cast<double>(face.size());
      if (face[i] < face[(i + 1) % face.size()]) points.emplace_back((a + b) / 2);
    }
    points.push_back(middle);
  }
  points.push_back(block.mass.centroid);
  return points;
}

}  // namespace

std::vector<Overlap> find_overlaps(const Assembly& assembly, double tolerance_m) {
  const std::size_t n = assembly.blocks.size();
  std::map<std::pair<int, int>, double> loose;
  for (const Joint& joint : assembly.joints) {
    double& most = loose[std::minmax(joint.a, joint.b)];
    most = std::max(most, joint.gap_tolerance_m);
  }
  std::vector<Box> boxes;
  for (const Block& block : assembly.blocks) boxes.push_back(box_of(block.solid));
  std::map<std::pair<int, int>, Overlap> worst;
  for (std::size_t i = 0; i < n; ++i) {
    const std::vector<Vec3> points = samples_of(assembly.blocks[i]);
    for (std::size_t j = 0; j < n; ++j) {
      if (i == j || (boxes[i].low.array() >= boxes[j].high.array()).any() ||
          (boxes[i].high.array() <= boxes[j].low.array()).any()) {
        continue;
      }
      const std::pair<int, int> pair = std::minmax(static_cast<int>(i), static_cast<int>(j));
      const auto found = loose.find(pair);
      const double allowed = std::max(tolerance_m, found == loose.end() ? 0 : found->second);
      for (const Vec3& p : points) {
        if (!boxes[j].holds(p, allowed)) continue;
        if (winding(assembly.blocks[j].solid, p) < 0.5) continue;
        const double depth = depth_in(assembly.blocks[j].solid, p);
        if (depth <= allowed) continue;
        Overlap& overlap = worst[pair];
        if (depth <= overlap.depth_m) continue;
        overlap = {static_cast<int>(i), static_cast<int>(j), p, depth};
      }
    }
  }
  std::vector<Overlap> all;
  for (const auto& [pair, overlap] : worst) {
    if (overlap.depth_m > 0) all.push_back(overlap);
  }
  return all;
}

}  // namespace skewback
