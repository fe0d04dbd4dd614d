#include "strength/section.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

namespace skewback {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

}  // namespace

PartInFront part_in_front(const Solid& solid, const Plane& plane) {
  PartInFront part;
  std::vector<Vec3> ring;
  for (const auto& face : solid.faces) {
    ring.clear();
    for (std::size_t i = 0; i < face.size(); ++i) {
      const Vec3 p = solid.vertices[at(face[i])] - plane.point,
                 q = solid.vertices[at(face[(i + 1) % face.size()])] - plane.point;
      const double sp = plane.normal.dot(p), sq = plane.normal.dot(q);
      if (sp >= 0) ring.push_back(p);
      if ((sp >= 0) != (sq >= 0)) ring.push_back(p + sp / (sp - sq) * (q - p));
    }
    // tetrahedra on the origin of the plane: the cap, which lies in it, adds nothing
    for (std::size_t i = 1; i + 1 < ring.size(); ++i) {
      const double volume = ring[0].dot(ring[i].cross(ring[i + 1])) / 6;
      part.volume += volume;
      part.moment += volume / 4 * (ring[0] + ring[i] + ring[i + 1]);
    }
  }
  return part;
}

Mat3 moments(const Regions& section) {
  Mat3 sum = Mat3::Zero();
  const auto add = [&](const Polygon& ring) {
    for (std::size_t i = 1; i + 1 < ring.size(); ++i) {
      const Vec2 d = ring[i] - ring[0], e = ring[i + 1] - ring[0];
      const double share = (d.x() * e.y() - d.y() * e.x()) / 24;
      const Vec3 a(1, ring[0].x(), ring[0].y()), b(1, ring[i].x(), ring[i].y()),
          c(1, ring[i + 1].x(), ring[i + 1].y()), total = a + b + c;
      sum += share * (total * total.transpose() + a * a.transpose() + b * b.transpose() +
                      c * c.transpose());
    }
  };
  for (const Region& region : section) {
    add(region.outer);
    for (const Polygon& hole : region.holes) add(hole);
  }
  return sum;
}

LinearStress linear_stress(const Regions& section, const Vec3& load) {
  const Vec3 t = moments(section).ldlt().solve(load);
  LinearStress out{std::numeric_limits<double>::max(), std::numeric_limits<double>::lowest(), {}};
  for (const Region& region : section) {
    for (const Vec2& p : region.outer) {
      const double stress = t[0] + t.tail<2>().dot(p);
      out.greatest_pa = std::max(out.greatest_pa, stress);
      if (stress < out.least_pa) {
        out.least_pa = stress;
        out.least_at = p;
      }
    }
  }
  return out;
}

std::vector<std::pair<double, double>> chords(const Regions& section, int axis, double x) {
  std::vector<double> at;
  const int other = 1 - axis;
  const auto cross = [&](const Polygon& ring) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 &p = ring[i], &q = ring[(i + 1) % ring.size()];
      if ((p[axis] <= x) == (q[axis] <= x)) continue;
      at.push_back(p[other] + (q[other] - p[other]) * (x - p[axis]) / (q[axis] - p[axis]));
    }
  };
  for (const Region& region : section) {
    cross(region.outer);
    for (const Polygon& hole : region.holes) cross(hole);
  }
  std::sort(at.begin(), at.end());
  std::vector<std::pair<double, double>> out;
  for (std::size_t i = 0; i + 1 < at.size(); i += 2) out.emplace_back(at[i], at[i + 1]);
  return out;
}

Box2 extents(const Regions& section) {
  constexpr double kFar = std::numeric_limits<double>::max();
  Box2 out{{kFar, kFar}, {-kFar, -kFar}};
  for (const Region& region : section) {
    for (const Vec2& p : region.outer) {
      out.low = out.low.cwiseMin(p);
      out.high = out.high.cwiseMax(p);
    }
  }
  return out;
}

ShearShape shear_shape(const Regions& section) {
  const Mat3 K = moments(section);
  const Vec2 c = K.block<2, 1>(1, 0) / K(0, 0);
  const auto along = [&](int axis) {
    const double second = K(axis + 1, axis + 1) - K(0, 0) * c[axis] * c[axis];
    Vec3 above = Vec3::Zero();
    above[0] = -c[axis];
    above[axis + 1] = 1;
    double first = 0, width = 0;
    const auto add = [&](const Polygon& ring) {
      const Polygon part = kept(ring, above);
      const Mat3 k = moments({{part, {}}});
      first += k(axis + 1, 0) - c[axis] * k(0, 0);
    };
    for (const Region& region : section) {
      add(region.outer);
      for (const Polygon& hole : region.holes) add(hole);
    }
    for (const auto& [from, to] : chords(section, axis, c[axis])) width += to - from;
    return width > 0 ? K(0, 0) * first / (second * width) : 1.5;
  };
  return {along(0), along(1)};
}

}  // namespace skewback
