#include "form/opening.hpp"

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "form/mesh.hpp"
#include "geometry/polyline.hpp"

namespace skewback {
namespace {

constexpr double kSharp = 20 * kPi / 180;  // a turn that is a corner, not a sample of a curve

double cross(const Vec2& a, const Vec2& b) { return a.x() * b.y() - a.y() * b.x(); }

double modulo(double a, double period) { return a - period * std::floor(a / period); }

// Arc lengths of the sharp corners of a loop.
std::vector<double> corners(const std::vector<Vec2>& loop) {
  std::vector<double> found;
  const std::size_t n = loop.size() - 1;
  double s = 0;
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 in = loop[i] - loop[(i + n - 1) % n], out = loop[i + 1] - loop[i];
    if (std::abs(std::atan2(cross(in, out), in.dot(out))) > kSharp) found.push_back(s);
    s += out.norm();
  }
  return found;
}

}  // namespace

std::optional<std::size_t> eye_of(const Plan& plan) {
  if (plan.openings.empty()) return std::nullopt;
  const Vec2 centre = meeting_point(plan);
  for (std::size_t k = 0; k < plan.openings.size(); ++k) {
    const Polygon& p = plan.openings[k];
    if (contains({Polygon(p.rbegin(), p.rend()), {}}, centre)) return k;
  }
  return std::nullopt;
}

std::vector<Vec2> loop_of(const Polygon& opening) {
  std::vector<Vec2> loop = opening;
  if (area(opening) < 0) std::reverse(loop.begin(), loop.end());
  loop.push_back(loop.front());
  return loop;
}

double entry(const std::vector<Vec2>& loop, const Vec2& outside, const Vec2& inside) {
  const Vec2 way = inside - outside;
  double best = 2, at = 0, start = 0;
  for (std::size_t i = 0; i + 1 < loop.size(); ++i) {
    const Vec2 side = loop[i + 1] - loop[i];
    const double det = cross(way, side);
    const double t = cross(loop[i] - outside, side) / det, u = cross(loop[i] - outside, way) / det;
    if (det != 0 && t >= 0 && t < best && u >= -1e-12 && u <= 1 + 1e-12) {
      best = t;
      at = start + std::clamp(u, 0.0, 1.0) * side.norm();
    }
    start += side.norm();
  }
  return at;
}

std::vector<Vec2> along_loop(const std::vector<Vec2>& loop, double from, double run, int steps) {
  const double whole = length(loop);
  std::vector<double> stations;
  for (int i = 0; i <= steps; ++i) stations.push_back(run * i / steps);
  for (double corner : corners(loop)) {
    const double s = modulo(corner - from, whole);
    const int nearest_station = static_cast<int>(std::lround(s / run * steps));
    if (s < run && nearest_station > 0 && nearest_station < steps) stations[nearest_station] = s;
  }
  std::vector<Vec2> points;
  for (double s : stations) points.push_back(point_at(loop, modulo(from + s, whole)));
  return points;
}

}  // namespace skewback
