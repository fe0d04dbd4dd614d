#include "print/loop.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace skewback {
namespace {

constexpr double kSame = 1e-5;     // m: no step between two points
constexpr int kWindowSamples = 8;  // at which two windows are compared

Loop measured(std::vector<SpacePoint> points) {
  Loop loop;
  loop.points = std::move(points);
  const std::size_t n = loop.points.size();
  loop.s.assign(n + 1, 0);
  for (std::size_t i = 0; i < n; ++i)
    loop.s[i + 1] = loop.s[i] + (loop.points[(i + 1) % n].p - loop.points[i].p).norm();
  return loop;
}

/// Mean distance of the windows, square to the normals or not.
template <class Measure>
void compare_windows(const Loop& a, const Loop& b, double window_m, Measure measure) {
  for (int i = 0; i <= kWindowSamples; ++i) {
    const double s = window_m * i / kWindowSamples;
    const SpacePoint p = at(a, s), q = at(b, s);
    const Vec3 normal = (p.normal + q.normal).normalized();
    const Vec3 step = q.p - p.p;
    measure((step - step.dot(normal) * normal).norm());
  }
}

}  // namespace

Loop loop_of(const SpaceStroke& stroke, const Rigid& to_table) {
  std::vector<SpacePoint> points;
  for (SpacePoint q : stroke.points) {
    q.p = to_table(q.p);
    q.normal = (to_table.R * q.normal).normalized();
    if (points.empty() || (q.p - points.back().p).norm() > kSame) points.push_back(q);
  }
  while (points.size() > 1 && (points.back().p - points.front().p).norm() <= kSame)
    points.pop_back();
  if (points.size() < 3) return {};
  return measured(std::move(points));
}

SpacePoint at(const Loop& loop, double s) {
  const std::size_t n = loop.points.size();
  const auto above = std::upper_bound(loop.s.begin(), loop.s.end(), s);
  std::size_t i =
      above == loop.s.begin() ? 0 : static_cast<std::size_t>(above - loop.s.begin()) - 1;
  if (i >= n) i = 0, s = 0;  // all the way round
  const SpacePoint &a = loop.points[i], &b = loop.points[(i + 1) % n];
  const double t = std::clamp((s - loop.s[i]) / (loop.s[i + 1] - loop.s[i]), 0.0, 1.0);
  SpacePoint out = a;
  out.p = a.p + t * (b.p - a.p);
  out.normal = ((1 - t) * a.normal + t * b.normal).normalized();
  out.height_m = (1 - t) * a.height_m + t * b.height_m;
  out.overhang_rad = (1 - t) * a.overhang_rad + t * b.overhang_rad;
  return out;
}

double nearest_way(const Loop& loop, const Vec3& p) {
  const std::size_t n = loop.points.size();
  double best = std::numeric_limits<double>::max(), way = 0;
  for (std::size_t i = 0; i < n; ++i) {
    const Vec3& a = loop.points[i].p;
    const Vec3 d = loop.points[(i + 1) % n].p - a;
    const double t = std::clamp((p - a).dot(d) / d.squaredNorm(), 0.0, 1.0);
    const double far = (a + t * d - p).squaredNorm();
    if (far < best) {
      best = far;
      way = loop.s[i] + t * (loop.s[i + 1] - loop.s[i]);
    }
  }
  return way;
}

Loop begun_at(const Loop& loop, double s) {
  const std::size_t n = loop.points.size();
  if (s >= loop.length() - kSame) s = 0;
  std::size_t first = 0;  // first point after the seam
  while (first < n && loop.s[first] <= s + kSame) ++first;
  std::vector<SpacePoint> points = {at(loop, s)};
  for (std::size_t i = 0; i < n; ++i) points.push_back(loop.points[(first + i) % n]);
  if ((points.back().p - points.front().p).norm() <= 2 * kSame) {  // the seam is a point already
    points.front() = points.back();
    points.pop_back();
  }
  return measured(std::move(points));
}

Loop reversed(const Loop& loop) {
  const std::size_t n = loop.points.size();
  std::vector<SpacePoint> points(n);
  for (std::size_t i = 0; i < n; ++i) {
    points[i] = loop.points[(n - i) % n];
    points[i].share_m = loop.points[n - 1 - i].share_m;  // of the bead between, whichever way run
  }
  return measured(std::move(points));
}

Loop led_on(const Loop& below, const Loop& next, double window_m) {
  Loop forth = begun_at(next, nearest_way(next, below.points.front().p));
  Loop back = reversed(forth);
  double forth_sum = 0, back_sum = 0;
  compare_windows(below, forth, window_m, [&](double d) { forth_sum += d; });
  compare_windows(below, back, window_m, [&](double d) { back_sum += d; });
  return back_sum < forth_sum ? back : forth;
}

double drift_m(const Loop& below, const Loop& next, double window_m) {
  double most = 0;
  compare_windows(below, next, window_m, [&](double d) { most = std::max(most, d); });
  return most;
}

}  // namespace skewback
