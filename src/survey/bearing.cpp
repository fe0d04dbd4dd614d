#include "survey/bearing.hpp"

#include <algorithm>
#include <limits>

namespace skewback {
namespace {

constexpr double kBeyond = 0.1;     // m round the contact; faces do not shift by more
constexpr double kRounding = 1e-6;  // m of gap
constexpr double kTwisted = 1e-5;   // m of gap, from which a twisted one is followed cell by cell
constexpr int kCells = 16;

struct Box2 {
  Vec2 low, high;
};
Box2 box_round(const Joint& joint) {
  constexpr double kFar = std::numeric_limits<double>::max();
  Box2 box{{kFar, kFar}, {-kFar, -kFar}};
  for (const Region& region : joint.contact) {
    for (const Vec2& p : region.outer) {
      box.low = box.low.cwiseMin(p);
      box.high = box.high.cwiseMax(p);
    }
  }
  return {box.low - Vec2(kBeyond, kBeyond), box.high + Vec2(kBeyond, kBeyond)};
}

Polygon rectangle(const Vec2& low, const Vec2& high) {
  return {low, {high.x(), low.y()}, high, {low.x(), high.y()}};
}

/// What of a convex outline has value + slope . (p - at) <= 0.
Polygon below_zero(const Polygon& outline, double value, const Vec2& slope, const Vec2& at) {
  const auto height = [&](const Vec2& p) { return value + slope.dot(p - at); };
  Polygon out;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec2 &p = outline[i], &q = outline[(i + 1) % outline.size()];
    const double hp = height(p), hq = height(q);
    if (hp <= 0) out.push_back(p);
    if ((hp < 0 && hq > 0) || (hp > 0 && hq < 0)) out.push_back(p + hp / (hp - hq) * (q - p));
  }
  return out.size() < 3 ? Polygon{} : out;
}

}  // namespace

Regions close_parts(const Joint& joint, const Warp& gap, double slack_m) {
  if (joint.contact.empty()) return {};
  const Box2 box = box_round(joint);
  const double most = slack_m + kRounding;
  const Vec2 size = box.high - box.low;
  const int cells = std::abs(gap.c[3]) * size.x() * size.y() > kTwisted ? kCells : 1;
  Regions out;
  for (int i = 0; i < cells; ++i) {
    int whole_from = -1;  // whole cells one on the other are one rectangle: fewer to unite
    const auto end_whole = [&](int before) {
      if (whole_from < 0) return;
      out.push_back({rectangle(box.low + size.cwiseProduct(Vec2(i, whole_from)) / cells,
                               box.low + size.cwiseProduct(Vec2(i + 1, before)) / cells),
                     {}});
      whole_from = -1;
    };
    for (int j = 0; j < cells; ++j) {
      const Vec2 low = box.low + size.cwiseProduct(Vec2(i, j)) / cells;
      const Vec2 high = box.low + size.cwiseProduct(Vec2(i + 1, j + 1)) / cells;
      const Vec2 at = (low + high) / 2;
      const double over = gap.at(at) - most;
      const Vec2 slope = gap.slope(at);
      if (over + slope.cwiseAbs().dot(high - at) <= 0) {
        if (whole_from < 0) whole_from = j;
        continue;
      }
      end_whole(j);
      Polygon part = below_zero(rectangle(low, high), over, slope, at);
      if (!part.empty()) out.push_back({std::move(part), {}});
    }
    end_whole(cells);
  }
  return cells == 1 ? out : unite(out);
}

Regions plates(const JointCorners& corners, int joint, const std::vector<Packer>& packers,
               const PackingRequest& packing) {
  Regions out;
  for (const Packer& packer : packers) {
    if (packer.joint != joint) continue;
    const Vec2 &left = packer.upper ? corners[3] : corners[0],
               &right = packer.upper ? corners[2] : corners[1];
    const double width = right.x() - left.x();
    const double t = width > 0 ? (packer.along_m - left.x()) / width : 0.5;
    const double edge = left.y() + t * (right.y() - left.y());
    const double inner = packer.upper ? edge - packing.plate_depth_m : edge + packing.plate_depth_m;
    const double half = packing.plate_length_m / 2;
    out.push_back({rectangle({packer.along_m - half, std::min(edge, inner)},
                             {packer.along_m + half, std::max(edge, inner)}),
                   {}});
  }
  return unite(out);
}

}  // namespace skewback
