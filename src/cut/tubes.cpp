#include "cut/tubes.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace skewback {
namespace {

constexpr int kColumns = 4;  // straight pieces along the roof and floor of a tube

struct Chord {
  double low = 0, high = 0;
  bool found = false;
  [[nodiscard]] double height() const { return found ? high - low : 0; }
};

/// Where the vertical line at x meets the polygon: the lowest and the highest point.
Chord chord_at(const Polygon& polygon, double x) {
  Chord c;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Vec2 &a = polygon[i], &b = polygon[(i + 1) % polygon.size()];
    if ((a.x() <= x) == (b.x() <= x)) continue;
    const double y = a.y() + (b.y() - a.y()) * (x - a.x()) / (b.x() - a.x());
    c.low = c.found ? std::min(c.low, y) : y;
    c.high = c.found ? std::max(c.high, y) : y;
    c.found = true;
  }
  return c;
}

/// First x from `from` towards `to` where the chord is nearly as high as it is a tenth further in.
double square_end(const Polygon& inner, double from, double to) {
  const double full = chord_at(inner, from + 0.1 * (to - from)).height();
  double out = from, in = from + 0.1 * (to - from);
  for (int i = 0; i < 40; ++i) {
    const double mid = (out + in) / 2;
    (chord_at(inner, mid).height() < 0.9 * full ? out : in) = mid;
  }
  return in;
}

double distance_to_segment(const Vec2& p, const Vec2& a, const Vec2& b) {
  const double s =
      std::clamp((p - a).dot(b - a) / std::max((b - a).squaredNorm(), 1e-30), 0.0, 1.0);
  return (p - a - s * (b - a)).norm();
}

}  // namespace

Result<TubeRings> rings_in(const Section& section, const Frame& frame, const Regions& bed,
                           int count) {
  const Fault too_tight{
      .key = "section.leaf",
      .found = "a bed with no room for tubes",
      .expected = "a bed deeper and wider than two leaves and the webs",
      .change = "thinner leaves or webs, a greater depth, or section.hollow = false"};
  const Regions inner_regions = offset(bed, -section.leaf_m);
  if (inner_regions.size() != 1) return too_tight;
  const Polygon& inner = inner_regions.front().outer;
  const auto [left, right] = std::minmax_element(
      inner.begin(), inner.end(), [](const Vec2& a, const Vec2& b) { return a.x() < b.x(); });
  const double low = square_end(inner, left->x(), right->x()),
               high = square_end(inner, right->x(), left->x());
  const double cell = (high - low - (count - 1) * section.web_m) / count;
  if (cell < 0.02) return too_tight;
  TubeRings rings;
  for (int j = 0; j < count; ++j) {
    const double x0 = low + j * (cell + section.web_m);
    Ring floor, roof;
    for (int i = 0; i <= kColumns; ++i) {
      const double x = x0 + cell * i / kColumns;
      const Chord c = chord_at(inner, x);
      if (c.height() < 0.02) return too_tight;
      floor.push_back(frame.to_world(Vec2(x, c.low)));
      roof.push_back(frame.to_world(Vec2(x, c.high)));
    }
    floor.insert(floor.end(), roof.rbegin(), roof.rend());
    rings.push_back(std::move(floor));
  }
  return rings;
}

double thinnest_leaf(const Frame& frame, const Regions& bed, const TubeRings& rings) {
  double least = std::numeric_limits<double>::max();
  for (const Ring& ring : rings) {
    for (const Vec3& p_W : ring) {
      const Vec2 p = frame.to_local(p_W).head<2>();
      for (const Region& region : bed) {
        for (std::size_t i = 0; i < region.outer.size(); ++i) {
          least = std::min(least, distance_to_segment(p, region.outer[i],
                                                      region.outer[(i + 1) % region.outer.size()]));
        }
      }
    }
  }
  return least;
}

TubeRings carried(TubeRings rings, const Vec3& step) {
  for (Ring& ring : rings) {
    for (Vec3& p : ring) p += step;
  }
  return rings;
}

double tube_volume(const TubeRings& low, const TubeRings& high) {
  double sum = 0;
  for (std::size_t j = 0; j < low.size(); ++j)
    sum += mass_properties(skin({high[j], low[j]})).volume;
  return sum;
}

}  // namespace skewback
