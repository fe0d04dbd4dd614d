#include "loads/edges.hpp"

#include <algorithm>
#include <cmath>

#include "brief/profile.hpp"
#include "loads/shares.hpp"

namespace skewback {
namespace {

constexpr double kPiece = 0.1;  // m

/// The block whose outline holds p; else, over the slits of the joints, the nearest within 20 mm.
int block_under(const std::vector<Regions>& outlines, const Vec2& p) {
  constexpr double kSlit = 0.02;
  int near = -1;
  double least = kSlit;
  for (std::size_t b = 0; b < outlines.size(); ++b) {
    for (const Region& region : outlines[b]) {
      if (contains(region, p)) return static_cast<int>(b);
      for (std::size_t i = 0; i < region.outer.size(); ++i) {
        const Vec2 &a = region.outer[i], &c = region.outer[(i + 1) % region.outer.size()];
        const Vec2 d = c - a;
        const double t = std::clamp((p - a).dot(d) / std::max(d.squaredNorm(), 1e-30), 0.0, 1.0);
        const double distance = (p - (a + t * d)).norm();
        if (distance < least) least = distance, near = static_cast<int>(b);
      }
    }
  }
  return near;
}

}  // namespace

std::vector<EdgePiece> edge_pieces(const Brief& brief, const Assembly& assembly,
                                   const std::vector<Regions>& outlines,
                                   const std::vector<std::vector<Vec2>>& lines, double deck_m) {
  std::vector<EdgePiece> pieces;
  for (const std::vector<Vec2>& line : lines) {
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
      const Vec2 d = line[i + 1] - line[i];
      const double length = d.norm();
      if (!(length > 0)) continue;
      const int parts = std::max(1, static_cast<int>(std::ceil(length / kPiece)));
      const Vec2 outward = Vec2(d.y(), -d.x()) / length;
      for (int k = 0; k < parts; ++k) {
        const Vec2 foot = line[i] + (k + 0.5) / parts * d - brief.parapet.inset_m * outward;
        const int block = block_under(outlines, foot);
        if (block < 0) continue;
        const double top = top_at(assembly.blocks[static_cast<std::size_t>(block)].solid, foot);
        const Vec3 point(foot.x(), foot.y(), top);
        pieces.push_back(
            {block, length / parts, point, walk_level(brief.walkway, point, deck_m), outward});
      }
    }
  }
  return pieces;
}

double walk_level(const Walkway& walkway, const Vec3& top, double deck_m) {
  const std::optional<double> drawn = walking_height_m(walkway, top.head<2>());
  return drawn ? std::max(*drawn, top.z()) : top.z() + deck_m;
}

}  // namespace skewback
