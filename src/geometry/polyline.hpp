#pragma once
// Points on a sampled curve by arc length.

#include <vector>

#include "geometry/geometry.hpp"

namespace skewback {

struct OnLine {         // a place on a polyline
  double s = 0;         // arc length from its start, m
  double distance = 0;  // from the point asked for, m
  Vec2 point = Vec2::Zero();
};

[[nodiscard]] double length(const std::vector<Vec2>& line);
[[nodiscard]] Vec2 point_at(const std::vector<Vec2>& line, double s);  // clamped to its ends
[[nodiscard]] OnLine nearest(const std::vector<Vec2>& line, const Vec2& p);

}  // namespace skewback
