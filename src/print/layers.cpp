#include "print/layers.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace skewback {
namespace {

constexpr double kFine = 0.04;    // m, edge of a solid whose levels are curved
constexpr double kSample = 0.02;  // m, along an outline
constexpr double kOver = 0.03;    // m from any wall: nothing below it

template <class Use>
void each_outline(const Regions& regions, Use use) {
  for (const Region& region : regions) {
    use(region.outer);
    for (const Polygon& hole : region.holes) use(hole);
  }
}

double distance_to(const Regions& regions, const Vec2& p) {
  double least = std::numeric_limits<double>::max();
  each_outline(regions, [&](const Polygon& line) {
    for (std::size_t i = 0; i < line.size(); ++i) {
      const Vec2 &a = line[i], d = line[(i + 1) % line.size()] - a;
      const double s = std::clamp((p - a).dot(d) / std::max(d.squaredNorm(), 1e-30), 0.0, 1.0);
      least = std::min(least, (p - a - s * d).squaredNorm());
    }
  });
  return std::sqrt(least);
}

bool inside(const Regions& regions, const Vec2& p) {
  return std::ranges::any_of(regions, [&](const Region& r) { return contains(r, p); });
}

/// The outline of a layer against that of the layer below, both seen in this layer's frame.
void find_leans(const LayerField& field, const LayerSection& below, int count,
                LayerSection& layer) {
  Regions under = below.section;
  const auto bring = [&](Polygon& line) {
    for (Vec2& p : line) p = layer.frame.to_local(below.frame.to_world(p)).head<2>();
  };
  for (Region& region : under) {
    bring(region.outer);
    for (Polygon& hole : region.holes) bring(hole);
  }
  const auto lean = [&](const Vec2& p, const Regions& other) {
    return std::atan2(distance_to(other, p), field.way(layer.frame.to_world(p)) / count);
  };
  each_outline(layer.section, [&](const Polygon& line) {
    for (std::size_t i = 0; i < line.size(); ++i) {
      const Vec2 &a = line[i], &b = line[(i + 1) % line.size()];
      const int pieces = std::max(1, static_cast<int>(std::ceil((b - a).norm() / kSample)));
      for (int k = 0; k < pieces; ++k) {
        const Vec2 p = a + (b - a) * k / pieces;
        layer.leans.push_back({p, (inside(under, p) ? -1 : 1) * lean(p, under)});
      }
    }
  });
  // what is laid over a void whose own outline ends below, as over the roof of a tube that lies
  each_outline(under, [&](const Polygon& line) {
    for (const Vec2& p : line)
      if (inside(layer.section, p) && distance_to(layer.section, p) > kOver)
        layer.leans.push_back({p, lean(p, layer.section)});
  });
}

/// Integral over a triangle, signed, of what a whole step of the level rises along the frame's z:
/// Gauss points in collapsed coordinates.
double risen_over(const LayerField& field, const LayerSection& layer, const Vec2& a, const Vec2& b,
                  const Vec2& c) {
  constexpr std::array<double, 3> kAt = {0.112701665379258, 0.5, 0.887298334620742},
                                  kWeight = {5.0 / 18, 8.0 / 18, 5.0 / 18};
  const Vec2 u = b - a, v = c - a;
  const double twice = u.x() * v.y() - u.y() * v.x();
  double sum = 0;
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t j = 0; j < 3; ++j) {
      const Vec2 p = a + kAt[i] * (u + kAt[j] * (v - u));
      const Vec3 on = field.lift(layer.frame, p, layer.middle);
      sum += kWeight[i] * kWeight[j] * kAt[i] * twice / field.gradient(on).dot(layer.frame.z);
    }
  }
  return sum;
}

void measure(const LayerField& field, int count, LayerSection& layer) {
  layer.height_min_m = std::numeric_limits<double>::max();
  each_outline(layer.section, [&](const Polygon& line) {
    for (const Vec2& p : line) {
      const double height = field.way(field.lift(layer.frame, p, layer.middle)) / count;
      layer.height_min_m = std::min(layer.height_min_m, height);
      layer.height_max_m = std::max(layer.height_max_m, height);
    }
  });
  layer.area_m2 = area(layer.section);
  each_outline(layer.section, [&](const Polygon& line) {
    for (std::size_t i = 1; i + 1 < line.size(); ++i)
      layer.volume_m3 += risen_over(field, layer, line[0], line[i], line[i + 1]) / count;
  });
}

/// The solid with z made into the field's level, in the frame's x and y: levels become planes.
Solid straightened(const LayerField& field, const Solid& solid, const Frame& frame) {
  Solid flat = refined(solid, kFine);
  for (Vec3& p : flat.vertices) {
    const double level = field.level(p);
    p = frame.to_local(p);
    p.z() = level;
  }
  return flat;
}

/// The path in pieces so short that a curved layer is followed.
std::vector<PathPoint> cut_small(const Stroke& stroke) {
  std::vector<PathPoint> out;
  const std::size_t n = stroke.points.size();
  for (std::size_t i = 0; i < n; ++i) {
    const PathPoint& from = stroke.points[i];
    const bool last = i + 1 == n && !stroke.closed;
    const Vec2 d = last ? Vec2(0, 0) : Vec2(stroke.points[(i + 1) % n].p - from.p);
    const int pieces = std::max(1, static_cast<int>(std::ceil(d.norm() / kSample - 1e-9)));
    for (int k = 0; k < pieces; ++k)
      out.push_back({from.p + static_cast<double>(k) / pieces * d, from.share_m});
  }
  return out;
}

}  // namespace

LayerCount layer_count(const WayRange& ways, double least_m, double greatest_m) {
  const double slack = 1e-9;  // so that a way that is a whole number of layers stays one
  if (!(ways.least_m > 0) || !(ways.greatest_m < 100)) return {};
  return {std::max(1, static_cast<int>(std::ceil(ways.greatest_m / greatest_m - slack))),
          static_cast<int>(std::floor(ways.least_m / least_m + slack))};
}

int LayerCount::chosen(const WayRange& ways, double least_m, double greatest_m) const {
  const double middle = std::sqrt(ways.least_m * ways.greatest_m / (least_m * greatest_m));
  return std::clamp(static_cast<int>(std::lround(middle)), fewest, std::max(fewest, most));
}

WayRange ways_through(const LayerField& field, const Solid& solid) {
  WayRange range{std::numeric_limits<double>::max(), 0};
  for (const Vec3& v : solid.vertices) {
    const double way = field.way(v);
    range.least_m = std::min(range.least_m, way);
    range.greatest_m = std::max(range.greatest_m, way);
  }
  return range;
}

double LayerSection::lean_at(const Vec2& p) const {
  double nearest = std::numeric_limits<double>::max(), lean = 0;
  for (const Lean& l : leans) {
    const double d = (l.at - p).squaredNorm();
    if (d < nearest) nearest = d, lean = l.rad;
  }
  return lean;
}

double LayerSection::lean_max() const {
  double most = 0;
  for (const Lean& l : leans) most = std::max(most, l.rad);
  return most;
}

std::vector<LayerSection> layer_sections(const LayerField& field, const Solid& solid, int count,
                                         const Vec3& along) {
  std::vector<LayerSection> layers;
  const Solid flat =
      field.planes() ? Solid{} : straightened(field, solid, field.frame_at(0, along));
  for (int k = 0; k < count; ++k) {
    LayerSection layer;
    layer.middle = (k + 0.5) / count;
    layer.top = (k + 1.0) / count;
    layer.frame = field.frame_at(layer.middle, along);
    layer.section =
        field.planes() ? slice(solid, layer.frame) : slice(flat, Frame{Vec3(0, 0, layer.middle)});
    measure(field, count, layer);
    if (k > 0) find_leans(field, layers.back(), count, layer);
    layers.push_back(std::move(layer));
  }
  return layers;
}

SpaceStroke lifted(const LayerField& field, const LayerSection& layer, const Stroke& stroke,
                   int count) {
  SpaceStroke out;
  out.closed = stroke.closed;
  out.points.reserve(stroke.points.size());
  for (const PathPoint& point : field.planes() ? stroke.points : cut_small(stroke)) {
    SpacePoint p;
    const Vec3 middle = field.lift(layer.frame, point.p, layer.middle);
    p.height_m = field.way(middle) / count;
    p.normal = field.gradient(middle).normalized();
    p.p = middle + p.height_m / 2 * p.normal;
    p.p += (layer.top - field.level(p.p)) * field.way(p.p) * p.normal;
    p.normal = field.gradient(p.p).normalized();
    p.share_m = point.share_m;
    p.overhang_rad = layer.lean_at(point.p);
    out.points.push_back(p);
  }
  return out;
}

}  // namespace skewback
