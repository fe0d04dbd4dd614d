#include "geometry/polyline.hpp"

#include <algorithm>
#include <limits>

namespace skewback {

double length(const std::vector<Vec2>& line) {
  double sum = 0;
  for (std::size_t i = 1; i < line.size(); ++i) sum += (line[i] - line[i - 1]).norm();
  return sum;
}

Vec2 point_at(const std::vector<Vec2>& line, double s) {
  for (std::size_t i = 1; i < line.size(); ++i) {
    const double step = (line[i] - line[i - 1]).norm();
    if (s <= step && step > 0)
      return line[i - 1] + std::max(s, 0.0) / step * (line[i] - line[i - 1]);
    s -= step;
  }
  return line.back();
}

OnLine nearest(const std::vector<Vec2>& line, const Vec2& p) {
  OnLine best{0, std::numeric_limits<double>::infinity(), line.front()};
  double start = 0;
  for (std::size_t i = 1; i < line.size(); ++i) {
    const Vec2 d = line[i] - line[i - 1];
    const double step = d.norm();
    if (step == 0) continue;
    const double t = std::clamp((p - line[i - 1]).dot(d) / (step * step), 0.0, 1.0);
    const Vec2 foot = line[i - 1] + t * d;
    const double distance = (p - foot).norm();
    if (distance < best.distance) best = {start + t * step, distance, foot};
    start += step;
  }
  return best;
}

}  // namespace skewback
