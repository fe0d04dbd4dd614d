#include "cut/tube_ends.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {
namespace {

/// Corners of a tube's ring at its left or right end: floor, roof. Rings run along the floor to the
/// right and back along the roof.
Ring end_of(const Ring& ring, bool left) {
  const std::size_t half = ring.size() / 2;
  return left ? Ring{ring.front(), ring.back()} : Ring{ring[half - 1], ring[half]};
}

double side_reach(const Ring& ring, const Vec3& x, double sign) {
  double most = -1e18;
  for (const Vec3& p : ring) most = std::max(most, sign * p.dot(x));
  return most;
}

/// Least distance of a tube's end between the beds from the side of the block; below 0 outside it.
double leaf_between(const Plane& low, const Plane& high, const Ring& from, const Ring& to,
                    const Solid& part) {
  double least = 1e18;
  for (const double t : {0.25, 0.5, 0.75}) {
    const Plane plane{(1 - t) * low.point + t * high.point,
                      ((1 - t) * low.normal + t * high.normal).normalized()};
    const Frame frame = frame_on(plane);
    const Regions section = slice(part, frame);
    Ring ring;
    for (std::size_t i = 0; i < std::min(from.size(), to.size()); ++i) {
      const Vec3 d = to[i] - from[i];
      ring.push_back(from[i] - plane.distance(from[i]) / plane.normal.dot(d) * d);
    }
    double leaf = thinnest_leaf(frame, section, {ring});
    const bool inside = std::ranges::all_of(ring, [&](const Vec3& p) {
      const Vec2 q = frame.to_local(p).head<2>();
      return std::ranges::any_of(section, [&](const Region& r) { return contains(r, q); });
    });
    if (!inside) leaf = -leaf;
    least = std::min(least, leaf);
  }
  return least;
}

}  // namespace

double widest(const TubeSpan& span) {
  double most = 0;
  for (const auto& [bed, rings] :
       {std::pair(&span.low, &span.low_rings), std::pair(&span.high, &span.high_rings)}) {
    const Vec3 x = frame_on(*bed).x;
    most = std::max(most, side_reach(rings->back(), x, 1) + side_reach(rings->front(), x, -1));
  }
  return most;
}

double least_wall_share(const TubeSpan& span) {
  const Vec3 along = (span.low.normal + span.high.normal).normalized();
  double least = 1;
  for (std::size_t t = 0; t < std::min(span.low_rings.size(), span.high_rings.size()); ++t) {
    const Ring &low = span.low_rings[t], &high = span.high_rings[t];
    for (std::size_t i = 0; i < std::min(low.size(), high.size()); ++i) {
      const std::size_t j = (i + 1) % low.size();
      const Vec3 normal = (high[j] - low[i]).cross(high[i] - low[j]);
      if (normal.norm() < 1e-12) continue;
      const double lean = normal.normalized().dot(along);
      least = std::min(least, std::sqrt(std::max(0.0, 1 - lean * lean)));
    }
  }
  return least;
}

bool draw_in_leaves(const TubeSpan& span, const Solid& part, double leaf_m, double share,
                    TubeEnds& low, TubeEnds& high) {
  if (share <= 0) return false;
  bool moved = false;
  const auto draw = [&](const Ring& from, const Ring& to, double& below, double& above) {
    const double leaf = leaf_between(span.low, span.high, from, to, part);
    if (leaf >= share * leaf_m) return;
    below += leaf_m - leaf;
    above += leaf_m - leaf;
    moved = true;
  };
  draw(end_of(span.low_rings.front(), true), end_of(span.high_rings.front(), true), low.left_m,
       high.left_m);
  draw(end_of(span.low_rings.back(), false), end_of(span.high_rings.back(), false), low.right_m,
       high.right_m);
  return moved;
}

bool draw_in_leaning(const TubeSpan& span, double share, TubeEnds& low, TubeEnds& high) {
  if (share <= 0) return false;
  constexpr double kLittle = 1e-3, kMargin = 0.03;  // m; of the share: ends are not quite upright
  const Vec3 along = (span.low.normal + span.high.normal).normalized();
  Vec3 x = frame_on(span.low).x + frame_on(span.high).x;
  x = (x - x.dot(along) * along).normalized();
  const double least = std::min(1.0, share + kMargin);
  const double steepest = std::sqrt(1 - least * least) / least;  // tangent of the lean
  bool moved = false;
  const auto draw = [&](const Ring& from, const Ring& to, double outwards, double& below,
                        double& above) {
    const Vec3 way = (to[0] + to[1] - from[0] - from[1]) / 2;
    const double spread = outwards * way.dot(x);  // above 0: the upper bed is wider
    const double over = std::abs(spread) - steepest * std::abs(way.dot(along));
    if (over < kLittle) return;
    (spread > 0 ? above : below) += over;
    moved = true;
  };
  draw(end_of(span.low_rings.front(), true), end_of(span.high_rings.front(), true), -1, low.left_m,
       high.left_m);
  draw(end_of(span.low_rings.back(), false), end_of(span.high_rings.back(), false), 1, low.right_m,
       high.right_m);
  return moved;
}

}  // namespace skewback
