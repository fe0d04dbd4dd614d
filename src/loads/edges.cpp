#include "loads/edges.hpp"

#include <algorithm>
#include <cmath>
#include <span>

#include "brief/profile.hpp"
#include "loads/shares.hpp"

namespace skewback {
namespace {

constexpr double kPiece = 0.1;  // m

struct Under {
  int block = -1;
  Vec2 point = Vec2::Zero();  // on it
};

/// The block whose outline holds p; else, over the slits of the joints, the nearest within 20 mm.
Under block_under(const std::vector<Regions>& outlines, const Vec2& p) {
  constexpr double kSlit = 0.02;
  constexpr double kIn = 1e-6;  // of the way to the middle: its very edge may be off its top
  Under near;
  double least = kSlit;
  for (std::size_t b = 0; b < outlines.size(); ++b) {
    for (const Region& region : outlines[b]) {
      if (contains(region, p)) return {static_cast<int>(b), p};
      for (std::size_t i = 0; i < region.outer.size(); ++i) {
        const Vec2 &a = region.outer[i], &c = region.outer[(i + 1) % region.outer.size()];
        const Vec2 d = c - a;
        const double t = std::clamp((p - a).dot(d) / std::max(d.squaredNorm(), 1e-30), 0.0, 1.0);
        const Vec2 q = a + t * d;
        if (const double distance = (p - q).norm(); distance < least)
          least = distance, near = {static_cast<int>(b), q + kIn * (centroid(region) - q)};
      }
    }
  }
  return near;
}

/// Pieces in a row: each by the mean of the slopes to its neighbours.
void lengthen_by_slope(std::span<EdgePiece> row) {
  const auto stretch = [&](std::size_t i) {  // true length over plan, from i to i + 1
    const double flat = (row[i + 1].point - row[i].point).head<2>().norm();
    return flat > 0 ? std::hypot(flat, row[i + 1].walk_z - row[i].walk_z) / flat : 1.0;
  };
  for (std::size_t i = 0; row.size() > 1 && i < row.size(); ++i) {
    const double before = stretch(i == 0 ? 0 : i - 1),
                 after = stretch(i + 1 == row.size() ? i - 1 : i);
    row[i].true_length_m = row[i].length_m * (before + after) / 2;
  }
}

}  // namespace

std::vector<EdgePiece> edge_pieces(const Brief& brief, const Assembly& assembly,
                                   const std::vector<Regions>& outlines,
                                   const std::vector<std::vector<Vec2>>& lines, double deck_m) {
  std::vector<EdgePiece> pieces;
  for (const std::vector<Vec2>& line : lines) {
    const std::size_t first = pieces.size();
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
      const Vec2 d = line[i + 1] - line[i];
      const double length = d.norm();
      if (!(length > 0)) continue;
      const int parts = std::max(1, static_cast<int>(std::ceil(length / kPiece)));
      const Vec2 outward = Vec2(d.y(), -d.x()) / length;
      for (int k = 0; k < parts; ++k) {
        const Vec2 foot = line[i] + (k + 0.5) / parts * d - brief.parapet.inset_m * outward;
        const Under under = block_under(outlines, foot);
        if (under.block < 0) continue;
        const double top =
            top_at(assembly.blocks[static_cast<std::size_t>(under.block)].solid, under.point);
        const Vec3 point(foot.x(), foot.y(), top);
        pieces.push_back({under.block, length / parts, length / parts, point,
                          walk_level(brief.walkway, point, deck_m), outward});
      }
    }
    lengthen_by_slope(std::span(pieces).subspan(first));
  }
  return pieces;
}

double walk_level(const Walkway& walkway, const Vec3& top, double deck_m) {
  const std::optional<double> drawn = walking_height_m(walkway, top.head<2>());
  return drawn ? std::max(*drawn, top.z()) : top.z() + deck_m;
}

}  // namespace skewback
