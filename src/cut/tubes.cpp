#include "cut/tubes.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace skewback {
namespace {

constexpr int kColumns = 4;          // straight pieces along the roof and floor of a tube
constexpr double kLeastTube = 0.02;  // m, across
constexpr double kNarrow = 0.04;     // m, the narrow end of a tube between leaning webs

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

struct Cell {  // a tube in the bed, x
  double floor_from = 0, floor_to = 0, roof_from = 0, roof_to = 0;
};

std::vector<Cell> upright_cells(const Section& section, double low, double high, int count) {
  const double cell = (high - low - (count - 1) * section.web_m) / count;
  std::vector<Cell> out;
  for (int j = 0; j < count; ++j) {
    const double from = low + j * (cell + section.web_m);
    out.push_back({from, from + cell, from, from + cell});
  }
  return out;
}

/// Webs lean to and fro, by no more than 45 degrees; tubes are narrow above and below by turns.
std::vector<Cell> leaning_cells(const Section& section, const Polygon& inner, double low,
                                double high, int count) {
  const double pitch = (high - low) / count, height = chord_at(inner, (low + high) / 2).height();
  double lean = std::clamp(pitch - section.web_m - kNarrow, 0.0, height);
  const auto thick = [&] { return section.web_m * std::hypot(1, lean / height); };  // along x
  while (lean > 0 && pitch - lean - thick() < kNarrow) lean -= 0.005;
  lean = std::max(lean, 0.0);
  std::vector<Cell> out(static_cast<std::size_t>(count));
  for (int j = 0; j < count; ++j) {
    Cell& cell = out[static_cast<std::size_t>(j)];
    const auto web = [&](int k, double side) {  // between tubes k - 1 and k, at the floor
      const double middle = low + k * pitch;
      return middle + (k % 2 == 0 ? -side : side) * lean / 2;
    };
    cell.floor_from = j == 0 ? low : web(j, 1) + thick() / 2;
    cell.roof_from = j == 0 ? low : web(j, -1) + thick() / 2;
    cell.floor_to = j + 1 == count ? high : web(j + 1, 1) - thick() / 2;
    cell.roof_to = j + 1 == count ? high : web(j + 1, -1) - thick() / 2;
  }
  return out;
}

double distance_to_segment(const Vec2& p, const Vec2& a, const Vec2& b) {
  const double s =
      std::clamp((p - a).dot(b - a) / std::max((b - a).squaredNorm(), 1e-30), 0.0, 1.0);
  return (p - a - s * (b - a)).norm();
}

}  // namespace

Result<TubeRings> rings_in(const Section& section, const Frame& frame, const Regions& bed,
                           int count, const TubeEnds& ends) {
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
  const double low = square_end(inner, left->x(), right->x()) + ends.left_m,
               high = square_end(inner, right->x(), left->x()) - ends.right_m;
  if (high - low < kLeastTube) return too_tight;
  const std::vector<Cell> cells = section.webs == "warren"
                                      ? leaning_cells(section, inner, low, high, count)
                                      : upright_cells(section, low, high, count);
  TubeRings rings;
  for (const Cell& cell : cells) {
    Ring floor, roof;
    for (int i = 0; i <= kColumns; ++i) {
      const double share = static_cast<double>(i) / kColumns;
      const double below = cell.floor_from + share * (cell.floor_to - cell.floor_from),
                   above = cell.roof_from + share * (cell.roof_to - cell.roof_from);
      const Chord under = chord_at(inner, below), over = chord_at(inner, above);
      if (std::min(under.height(), over.height()) < kLeastTube) return too_tight;
      floor.push_back(frame.to_world(Vec2(below, under.low)));
      roof.push_back(frame.to_world(Vec2(above, over.high)));
    }
    if (std::min(cell.floor_to - cell.floor_from, cell.roof_to - cell.roof_from) < kLeastTube)
      return too_tight;
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
