#include "cut/parts.hpp"

#include <algorithm>
#include <cmath>

#include "cut/tube_ends.hpp"

namespace skewback {
namespace {

constexpr double kOnPlane = 1e-7;  // m

struct Across {  // left and right ends of a bed at mid-height, in its frame
  Vec2 left = Vec2::Zero(), right = Vec2::Zero();
  [[nodiscard]] Vec2 at(double share) const { return left + share * (right - left); }
};

Across across(const Regions& bed) {
  Across out;
  double low = 1e18, high = -1e18;
  for (const Region& r : bed)
    for (const Vec2& p : r.outer) low = std::min(low, p.x()), high = std::max(high, p.x());
  const auto mid_height = [&](double x) {
    double least = 1e18, most = -1e18;
    for (const Region& r : bed)
      for (std::size_t i = 0; i < r.outer.size(); ++i) {
        const Vec2 &a = r.outer[i], &b = r.outer[(i + 1) % r.outer.size()];
        if ((a.x() <= x) == (b.x() <= x)) continue;
        const double y = a.y() + (b.y() - a.y()) * (x - a.x()) / (b.x() - a.x());
        least = std::min(least, y), most = std::max(most, y);
      }
    return least > most ? 0.0 : (least + most) / 2;
  };
  const double inside = 1e-3 * (high - low);
  out.left = {low, mid_height(low + inside)};
  out.right = {high, mid_height(high - inside)};
  return out;
}

}  // namespace

Regions bed_of(const Solid& part, const Plane& mid, double pad_m, int facing) {
  // the bed above a joint faces down the flow
  return faces_in_plane(part, frame_on(mid.moved(facing < 0 ? pad_m / 2 : -pad_m / 2)), facing,
                        kOnPlane);
}

Regions without_upstands(const Regions& bed, double width_m) {
  if (width_m <= 0) return bed;
  // a bed that meets the free edge aslant sees them wider than they are
  for (const double wider : {1.3, 1.02}) {
    const double d = 0.5 * width_m * wider;
    Regions rest = intersect(offset(offset(bed, -d), d), bed);
    if (!rest.empty() || wider < 1.1) return rest;
  }
  return {};
}

Result<Parts> divided_at(const Solid& solid, const std::vector<Plane>& walls, double pad_m,
                         bool plainly) {
  Parts out;
  Solid rest = solid;
  for (const Plane& wall : walls) {
    Result<std::pair<Solid, Solid>> parts = parted(rest, wall.moved(-pad_m / 2), plainly);
    if (!parts) return parts.faults();
    out.solids.push_back(std::move(parts.value().first));
    rest = std::move(parts.value().second);
    if (pad_m > 0) {
      Result<std::pair<Solid, Solid>> beyond = parted(rest, wall.moved(pad_m / 2), plainly);
      if (!beyond) return beyond.faults();
      out.slab_volume_m3 += mass_properties(beyond->first).volume;
      rest = std::move(beyond.value().second);
    }
    out.left_of.push_back(out.walls.size());
    out.walls.push_back(wall);
  }
  out.solids.push_back(std::move(rest));
  return out;
}

Result<Parts> divide_across(const Course& course, double pad_m, int count, double shift,
                            bool plainly) {
  if (count == 1) return divided_at(course.solid, {}, pad_m);
  const Frame low = frame_on(course.low), high = frame_on(course.high);
  const Across below = across(bed_of(course.solid, course.low, pad_m, -1));
  const Across above = course.beds ? across(bed_of(course.solid, course.high, pad_m, 1)) : Across{};
  std::vector<Plane> walls;
  for (int i = 1; i < count; ++i) {
    const double share = (i + shift) / count;
    const Vec3 from = low.to_world(below.at(share));
    Vec3 way = course.low.normal, up = low.y;
    if (course.beds) {
      way = high.to_world(above.at(share)) - from;
      up = (low.y + high.y).normalized();
    }
    Vec3 normal = way.cross(up).normalized();
    if (normal.dot(low.x) < 0) normal = -normal;
    walls.push_back({from, normal});
  }
  Result<Parts> out = divided_at(course.solid, walls, pad_m, plainly);
  if (!out) return out;
  for (const Solid& s : out->solids) {
    if (!s.faces.empty()) continue;
    return Fault{.key = "cut: head joints",
                 .found = "a part of a course with nothing in it",
                 .expected = "head joints that run from bed to bed",
                 .change = "a greater blocks.width_max"};
  }
  return out;
}

Result<Hollowed> hollowed(const Section& section, const Course& course, const Solid& part,
                          double pad_m, int count, const TubeLimits& limits) {
  const Plane low = course.low.moved(pad_m / 2), high = course.high.moved(-pad_m / 2);
  const Regions below = bed_of(part, course.low, pad_m, -1),
                above = bed_of(part, course.high, pad_m, 1);
  TubeEnds low_ends, high_ends;
  const auto rings = [&](const Plane& bed, const Regions& outline, const TubeEnds& ends) {
    return rings_in(section, frame_on(bed), without_upstands(outline, limits.upstand_width_m),
                    count, ends);
  };
  Result<TubeRings> low_rings = rings(low, below, low_ends),
                    high_rings = rings(high, above, high_ends);
  for (int tries = 0; tries < 4 && low_rings && high_rings; ++tries) {
    const TubeSpan span{low, high, *low_rings, *high_rings};
    bool moved =
        draw_in_leaves(span, part, section.leaf_m, limits.leaf_least_share, low_ends, high_ends);
    moved = draw_in_leaning(span, limits.leaf_least_share, low_ends, high_ends) || moved;
    if (!moved) break;
    count = std::min(count, tube_count(section, widest(span) + 2 * section.leaf_m));
    low_rings = rings(low, below, low_ends);
    high_rings = rings(high, above, high_ends);
  }
  if (!low_rings) return low_rings.faults();
  if (!high_rings) return high_rings.faults();
  Result<Solid> opened = open_tubes(part, low, *low_rings, high, *high_rings);
  if (!opened) return opened.faults();
  // walls of tubes that narrow fast may come through the skin between the beds
  const Result<bool> crosses = self_intersects(*opened);
  if (!crosses || *crosses) {
    return Fault{.key = "section.leaf",
                 .found = "tubes that come through the side of a block between its beds",
                 .expected = "leaves all round",
                 .change = "shorter blocks, a gentler curve of the free edges, or hollow = false"};
  }
  Hollowed out;
  out.solid = std::move(opened).value();
  out.tube_volume_m3 = tube_volume(*low_rings, *high_rings);
  out.wall_share = least_wall_share({low, high, *low_rings, *high_rings});
  out.leaf_least_m = std::min(thinnest_leaf(frame_on(low), below, *low_rings),
                              thinnest_leaf(frame_on(high), above, *high_rings));
  return out;
}

}  // namespace skewback
