#include "loads/shares.hpp"

#include <algorithm>

namespace skewback {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Plan outline of a block, as the hull of its corners seen from above: the free edges of a block
/// bow in by a few millimetres at most, outside the walking surface.
Regions footprint(const Solid& solid) {
  std::vector<Vec2> corners;
  for (const Vec3& v : solid.vertices) corners.push_back(v.head<2>());
  return {{convex_hull(corners), {}}};
}

}  // namespace

double top_at(const Solid& solid, const Vec2& p) {
  double top = -1e300;
  for (const auto& face : solid.faces) {
    for (std::size_t i = 1; i + 1 < face.size(); ++i) {
      const Vec3 &a = solid.vertices[at(face[0])], &b = solid.vertices[at(face[i])],
                 &c = solid.vertices[at(face[i + 1])];
      const double whole = (b - a).head<2>().x() * (c - a).y() - (b - a).y() * (c - a).x();
      if (whole <= 0) continue;
      const auto share = [&](const Vec3& u, const Vec3& v) {
        return ((u.x() - p.x()) * (v.y() - p.y()) - (u.y() - p.y()) * (v.x() - p.x())) / whole;
      };
      const double wa = share(b, c), wb = share(c, a), wc = share(a, b);
      if (std::min({wa, wb, wc}) < -1e-9) continue;
      top = std::max(top, wa * a.z() + wb * b.z() + wc * c.z());
    }
  }
  return top > -1e299 ? top : mass_properties(solid).centroid.z();
}

std::vector<Regions> shared_outlines(const Assembly& assembly) {
  std::vector<Regions> out(assembly.blocks.size());
  std::vector<Regions> raw(assembly.blocks.size());
  for (std::size_t b = 0; b < raw.size(); ++b) {
    if (!assembly.blocks[b].fixed) raw[b] = footprint(assembly.blocks[b].solid);
  }
  // a block hides what is under it: the extrados of one block next to the haunch of the next
  for (std::size_t b = 0; b < raw.size(); ++b) {
    Regions own = raw[b];
    for (const Joint& joint : assembly.joints) {
      const bool is_b = at(joint.b) == b;
      if (!is_b && at(joint.a) != b) continue;
      const std::size_t other = is_b ? at(joint.a) : at(joint.b);
      if (assembly.blocks[other].fixed) continue;
      const Regions overlap = intersect(own, raw[other]);
      if (overlap.empty()) continue;
      const Vec2 c = centroid(overlap);
      if (top_at(assembly.blocks[other].solid, c) > top_at(assembly.blocks[b].solid, c))
        own = subtract(own, raw[other]);
    }
    out[b] = std::move(own);
  }
  return out;
}

std::vector<Share> shares(const Assembly& assembly, const std::vector<Regions>& outlines,
                          const Regions& where) {
  std::vector<Share> out;
  double covered = 0;
  for (std::size_t b = 0; b < outlines.size(); ++b) {
    if (outlines[b].empty()) continue;
    const Regions on = intersect(outlines[b], where);
    const double a = area(on);
    if (a < 1e-6) continue;
    const Vec2 c = centroid(on);
    out.push_back(
        {static_cast<int>(b), a, Vec3(c.x(), c.y(), top_at(assembly.blocks[b].solid, c))});
    covered += a;
  }
  // pads and joints leave slits of a few millimetres between outlines: people stand on them all the
  // same
  const double whole = area(where);
  for (Share& f : out) f.area_m2 *= covered > 0 ? whole / covered : 0;
  return out;
}

}  // namespace skewback
