#include "print/fresh_section.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <optional>

#include "base/constants.hpp"
#include "print/words.hpp"

namespace skewback {
namespace {

constexpr double kTurn = kPi / 6;  // of a side, in all
constexpr int kStations = 9;       // along a side
constexpr double kNear = 1e-7;     // m

Vec2 turned(const Vec2& v) { return {-v.y(), v.x()}; }

double angle_between(const Vec2& a, const Vec2& b) {
  return std::abs(std::atan2(a.x() * b.y() - a.y() * b.x(), a.dot(b)));
}

struct Side {
  std::vector<Vec2> points;
  [[nodiscard]] double chord() const { return (points.back() - points.front()).norm(); }
};

/// Outline cut at its corners into sides that turn little; starts at its sharpest corner.
std::vector<Side> sides_of(const Polygon& outline) {
  const std::size_t n = outline.size();
  const auto way = [&](std::size_t k) -> Vec2 { return outline[(k + 1) % n] - outline[k % n]; };
  std::size_t first = 0;
  double sharpest = -1;
  for (std::size_t k = 0; k < n; ++k) {
    const double corner = angle_between(way(k + n - 1), way(k));
    if (corner > sharpest) sharpest = corner, first = k;
  }
  std::vector<Side> sides;
  Vec2 start = Vec2::Zero();
  for (std::size_t k = first; k < first + n; ++k) {
    const Vec2 now = way(k);
    if (sides.empty() || angle_between(start, now) > kTurn) {
      sides.push_back({{outline[k % n]}});
      start = now;
    }
    sides.back().points.push_back(outline[(k + 1) % n]);
  }
  return sides;
}

struct Hit {
  double distance_m = 0;
  bool hole = false;
};

/// Nearest outline in a direction.
std::optional<Hit> look(const Region& region, const Vec2& from, const Vec2& way) {
  std::optional<Hit> nearest;
  const auto against = [&](const Polygon& outline, bool hole) {
    for (std::size_t k = 0; k < outline.size(); ++k) {
      const Vec2 a = outline[k] - from, b = outline[(k + 1) % outline.size()] - from;
      const double across_a = turned(way).dot(a), across_b = turned(way).dot(b);
      if ((across_a > 0) == (across_b > 0)) continue;
      const double t = across_a / (across_a - across_b);
      const double distance = way.dot(a + t * (b - a));
      if (distance <= kNear || (nearest && nearest->distance_m <= distance)) continue;
      nearest = Hit{distance, hole};
    }
  };
  against(region.outer, false);
  for (const Polygon& hole : region.holes) against(hole, true);
  return nearest;
}

/// Over a side, into the solid: outlines run counter-clockwise outside and clockwise in holes, so
/// that the solid is on the left.
std::vector<Hit> look_over(const Region& region, const Side& side) {
  std::vector<Hit> hits;
  const Vec2 chord = side.points.back() - side.points.front();
  for (int k = 0; k < kStations; ++k) {
    const double along = (k + 0.5) / kStations * chord.squaredNorm();
    std::size_t i = 1;
    const auto passed = [&](std::size_t j) { return chord.dot(side.points[j] - side.points[0]); };
    while (i + 1 < side.points.size() && passed(i) < along) ++i;
    const Vec2 a = side.points[i - 1], b = side.points[i];
    const double part = (along - passed(i - 1)) / std::max(1e-30, passed(i) - passed(i - 1));
    const Vec2 from = a + std::clamp(part, 0.0, 1.0) * (b - a);
    if (const auto hit = look(region, from, turned(b - a).normalized())) hits.push_back(*hit);
  }
  return hits;
}

double thinnest(const std::vector<Hit>& hits) {
  return std::ranges::min(hits, {}, &Hit::distance_m).distance_m;
}

void add_hole_walls(const Region& region, std::size_t hole, std::vector<FreshWall>& walls) {
  for (const Side& side : sides_of(region.holes[hole])) {
    const std::vector<Hit> hits = look_over(region, side);
    if (hits.empty()) continue;
    FreshWall wall;
    wall.thickness_m = thinnest(hits);
    wall.span_m = side.chord() + wall.thickness_m;
    if (side.chord() <= wall.thickness_m) continue;
    wall.place =
        "wall of " + millimetres(wall.thickness_m) + " beside tube " + std::to_string(hole + 1);
    walls.push_back(std::move(wall));
  }
}

void add_free_walls(const Region& region, double bead_min_m, std::vector<FreshWall>& walls) {
  for (const Side& side : sides_of(region.outer)) {
    const std::vector<Hit> hits = look_over(region, side);
    if (hits.empty() || std::ranges::any_of(hits, &Hit::hole)) continue;
    FreshWall wall;
    wall.thickness_m = thinnest(hits);
    wall.outstand_m = side.chord();
    if (wall.outstand_m <= std::max(wall.thickness_m, bead_min_m)) continue;
    wall.place = "solid of " + millimetres(wall.thickness_m) + ", " + millimetres(wall.outstand_m) +
                 " wide, a free edge";
    walls.push_back(std::move(wall));
  }
}

}  // namespace

FreshLayer fresh_layer(const Regions& section, const Frame& frame, double height_m,
                       double volume_m3, double time_s) {
  FreshLayer layer;
  layer.height_m = height_m;
  layer.volume_m3 = volume_m3;
  layer.time_s = time_s;
  layer.lean_rad = std::acos(std::clamp(frame.z.z(), -1.0, 1.0));
  layer.area_m2 = area(section);
  if (!(layer.area_m2 > 0)) return layer;
  const Vec2 middle = centroid(section);
  layer.middle_m = frame.to_world(middle).head<2>();
  Eigen::Matrix2d second = -layer.area_m2 * middle * middle.transpose();
  for (const Region& region : section) {
    const auto [xx, yy, xy] = second_moments(region);
    second += Eigen::Matrix2d{{xx, xy}, {xy, yy}};
  }
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> axes(second);
  layer.second_moment_m4 = axes.eigenvalues()(0);
  const Vec2 across = axes.eigenvectors().col(0);
  for (const Region& region : section) {
    for (const Vec2& p : region.outer) {
      layer.edge_m = std::max(layer.edge_m, std::abs(across.dot(p - middle)));
    }
  }
  return layer;
}

std::vector<FreshWall> fresh_walls(const Regions& section, double bead_min_m) {
  std::vector<FreshWall> walls;
  for (const Region& region : section) {
    for (std::size_t hole = 0; hole < region.holes.size(); ++hole) {
      add_hole_walls(region, hole, walls);
    }
    add_free_walls(region, bead_min_m, walls);
  }
  return walls;
}

}  // namespace skewback
