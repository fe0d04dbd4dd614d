#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>

#include "geometry/geometry.hpp"

namespace skewback {
namespace {

/// Unnormalised normal of a flat face (Newell 1972): twice its area long.
Vec3 area_vector(const Solid& s, const std::vector<int>& face) {
  Vec3 n = Vec3::Zero();
  const Vec3& o = s.vertices[static_cast<std::size_t>(face[0])];
  for (std::size_t i = 1; i + 1 < face.size(); ++i) {
    n += (s.vertices[static_cast<std::size_t>(face[i])] - o)
             .cross(s.vertices[static_cast<std::size_t>(face[i + 1])] - o);
  }
  return n;
}

}  // namespace

MassProperties mass_properties(const Solid& solid) {
  MassProperties out;
  if (solid.faces.empty()) return out;
  // Signed tetrahedra from a point near the solid; the origin is shifted to keep digits.
  const Vec3 o = solid.vertices.front();
  double volume6 = 0;
  Vec3 first24 = Vec3::Zero();
  Mat3 second120 = Mat3::Zero();  // sum det * (p p' + sum of vertex outer products)
  for (const auto& face : solid.faces) {
    const Vec3 a = solid.vertices[static_cast<std::size_t>(face[0])] - o;
    for (std::size_t i = 1; i + 1 < face.size(); ++i) {
      const Vec3 b = solid.vertices[static_cast<std::size_t>(face[i])] - o;
      const Vec3 c = solid.vertices[static_cast<std::size_t>(face[i + 1])] - o;
      const double det = a.dot(b.cross(c));
      const Vec3 s = a + b + c;
      volume6 += det;
      first24 += det * s;
      second120 +=
          det * (s * s.transpose() + a * a.transpose() + b * b.transpose() + c * c.transpose());
    }
  }
  out.volume = volume6 / 6;
  if (out.volume == 0) return out;
  const Vec3 g = first24 / 24 / out.volume;
  out.centroid = o + g;
  const Mat3 second = second120 / 120 - out.volume * g * g.transpose();
  out.inertia = second.trace() * Mat3::Identity() - second;
  return out;
}

bool closed(const Solid& solid) {
  if (solid.faces.empty()) return false;
  std::map<std::pair<int, int>, int> balance;
  for (const auto& face : solid.faces) {
    for (std::size_t i = 0; i < face.size(); ++i) {
      const int a = face[i], b = face[(i + 1) % face.size()];
      if (a == b) return false;
      if (a < b) {
        ++balance[{a, b}];
      } else {
        --balance[{b, a}];
      }
    }
  }
  return std::all_of(balance.begin(), balance.end(),
                     [](const auto& entry) { return entry.second == 0; });
}

Solid moved(const Solid& solid, const Rigid& X) {
  Solid out = solid;
  for (Vec3& v : out.vertices) v = X(v);
  return out;
}

Solid box(const Vec3& low, const Vec3& high) {
  return prism(Frame{},
               {{low.x(), low.y()}, {high.x(), low.y()}, {high.x(), high.y()}, {low.x(), high.y()}},
               low.z(), high.z());
}

Solid prism(const Frame& frame, const Polygon& polygon, double from, double to) {
  Solid out;
  const int n = static_cast<int>(polygon.size());
  for (const double z : {from, to}) {
    for (const Vec2& p : polygon) out.vertices.push_back(frame.to_world(Vec3(p.x(), p.y(), z)));
  }
  std::vector<int> bottom, top;
  for (int i = 0; i < n; ++i) {
    const int j = (i + 1) % n;
    out.faces.push_back({i, j, j + n, i + n});
    top.push_back(i + n);
    bottom.push_back(n - 1 - i);
  }
  out.faces.push_back(bottom);
  out.faces.push_back(top);
  return out;
}

Solid skin(const std::vector<std::vector<Vec3>>& rings) {
  Solid out;
  const int n = static_cast<int>(rings.front().size());
  for (const auto& ring : rings) out.vertices.insert(out.vertices.end(), ring.begin(), ring.end());
  for (int r = 0; r + 1 < static_cast<int>(rings.size()); ++r) {
    for (int i = 0; i < n; ++i) {
      const int a = r * n + i, b = r * n + (i + 1) % n;
      out.faces.push_back({a, a + n, b});
      out.faces.push_back({b, a + n, b + n});
    }
  }
  const auto cap = [&](int start, bool reversed) {
    Vec3 middle = Vec3::Zero();
    for (int i = 0; i < n; ++i) middle += out.vertices[static_cast<std::size_t>(start + i)];
    const int m = static_cast<int>(out.vertices.size());
    out.vertices.push_back(middle / n);
    for (int i = 0; i < n; ++i) {
      const int a = start + i, b = start + (i + 1) % n;
      if (reversed) {
        out.faces.push_back({m, b, a});
      } else {
        out.faces.push_back({m, a, b});
      }
    }
  };
  cap(0, false);
  cap((static_cast<int>(rings.size()) - 1) * n, true);
  return out;
}

Solid join(const std::vector<Solid>& parts) {
  Solid out;
  for (const Solid& part : parts) {
    const int base = static_cast<int>(out.vertices.size());
    out.vertices.insert(out.vertices.end(), part.vertices.begin(), part.vertices.end());
    for (std::vector<int> face : part.faces) {
      for (int& v : face) v += base;
      out.faces.push_back(std::move(face));
    }
  }
  return out;
}

Regions faces_in_plane(const Solid& solid, const Frame& frame, int facing, double tol) {
  Regions pieces;
  for (const auto& face : solid.faces) {
    const bool flat = std::all_of(face.begin(), face.end(), [&](int v) {
      return std::abs(frame.to_local(solid.vertices[static_cast<std::size_t>(v)]).z()) <= tol;
    });
    if (!flat || area_vector(solid, face).dot(frame.z) * facing <= 0) continue;
    Polygon p;
    for (int v : face) {
      const Vec3 q = frame.to_local(solid.vertices[static_cast<std::size_t>(v)]);
      p.emplace_back(q.x(), q.y());
    }
    if (facing < 0) std::reverse(p.begin(), p.end());
    pieces.push_back({std::move(p), {}});
  }
  return unite(pieces);
}

}  // namespace skewback
