#include "print/axes.hpp"

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"

namespace skewback {
namespace {

constexpr double kHalfMean = 0.05;  // m
constexpr double kOffLine = 2e-4;   // m
constexpr double kOffAxis = 0.2 * kPi / 180;
constexpr double kAlike = 0.01;
constexpr double kShort = 1.5e-3;  // m

double angle_between(const Vec3& a, const Vec3& b) {
  return std::atan2(a.cross(b).norm(), a.dot(b));
}

/// Integral of the normals from the beginning of the way; exact for normals linear along pieces.
struct NormalIntegral {
  std::vector<double> s;
  std::vector<Vec3> sum;
  const std::vector<WayPoint>& way;

  explicit NormalIntegral(const std::vector<WayPoint>& w) : way(w) {
    s.assign(w.size(), 0);
    sum.assign(w.size(), Vec3::Zero());
    for (std::size_t i = 1; i < w.size(); ++i) {
      const double length = (w[i].tip - w[i - 1].tip).norm();
      s[i] = s[i - 1] + length;
      sum[i] = sum[i - 1] + length / 2 * (w[i - 1].normal + w[i].normal);
    }
  }

  /// Up to way q in the piece that `piece` is moved to; q only grows from call to call.
  [[nodiscard]] Vec3 up_to(double q, std::size_t& piece) const {
    while (piece + 2 < s.size() && s[piece + 1] <= q) ++piece;
    const double length = s[piece + 1] - s[piece], t = q - s[piece];
    if (length <= 0) return sum[piece];
    const Vec3 &a = way[piece].normal, &b = way[piece + 1].normal;
    return sum[piece] + t * a + t * t / (2 * length) * (b - a);
  }
};

Vec3 leant_back(const Vec3& axis, double tilt_max_rad) {
  const Vec3 out = Vec3(axis.x(), axis.y(), 0).normalized();
  return std::sin(tilt_max_rad) * out + std::cos(tilt_max_rad) * Vec3::UnitZ();
}

bool alike(double a, double b) { return std::abs(a - b) <= kAlike * std::max(a, b); }

double section(const WayPoint& from, const WayPoint& to) {
  const double length = (to.tip - from.tip).norm();
  return length > 0 ? from.volume_m3 / length : 0;
}

/// Whether places (first, last) lie on the straight way from first to last.
bool on_line(const std::vector<WayPoint>& way, const std::vector<Vec3>& axis, std::size_t first,
             std::size_t last) {
  const Vec3 d = way[last].tip - way[first].tip;
  const double length2 = d.squaredNorm();
  if (length2 <= 0) return false;
  for (std::size_t i = first + 1; i < last; ++i) {
    const Vec3 e = way[i].tip - way[first].tip;
    const double t = e.dot(d) / length2;
    if (t < 0 || t > 1 || (e - t * d).norm() > kOffLine) return false;
    const Vec3 between = (1 - t) * axis[first] + t * axis[last];
    if (angle_between(between, axis[i]) > kOffAxis) return false;
  }
  return true;
}

/// Whether the piece at i may be joined to the one that begins at `kept`.
bool joins(const std::vector<WayPoint>& way, std::size_t kept, std::size_t i) {
  const WayPoint &a = way[kept], &b = way[i];
  if (a.layer != b.layer || (a.volume_m3 > 0) != (b.volume_m3 > 0)) return false;
  if (a.volume_m3 <= 0) return true;
  if ((b.tip - a.tip).norm() < kShort || (way[i + 1].tip - b.tip).norm() < kShort) return true;
  return alike(a.height_m, b.height_m) &&
         alike(section(a, way[kept + 1]), section(b, way[i + 1])) &&
         std::abs(a.overhang_rad - b.overhang_rad) <= kAlike;
}

}  // namespace

Axes smooth_axes(const std::vector<WayPoint>& way, double tilt_max_rad) {
  Axes out;
  if (way.size() < 2) return out;
  const NormalIntegral integral(way);
  const double end = integral.s.back();
  std::size_t low = 0, high = 0;
  for (std::size_t i = 0; i < way.size(); ++i) {
    const double from = std::max(0.0, integral.s[i] - kHalfMean);
    const double to = std::min(end, integral.s[i] + kHalfMean);
    const Vec3 a = integral.up_to(from, low), b = integral.up_to(to, high);
    Vec3 axis = (b - a).normalized();
    const double tilt = angle_between(axis, Vec3::UnitZ());
    if (tilt > out.tilt_max_rad) out.tilt_max_rad = tilt, out.tilt_layer = way[i].layer;
    if (tilt > tilt_max_rad) axis = leant_back(axis, tilt_max_rad);
    out.axis.push_back(axis);
  }
  return out;
}

std::vector<std::size_t> thin(std::vector<WayPoint>& way, const std::vector<Vec3>& axis,
                              double step_m) {
  std::vector<WayPoint> kept;
  std::vector<std::size_t> indices;
  for (std::size_t i = 0; i + 1 < way.size();) {
    std::size_t next = i + 1;
    double volume = way[i].volume_m3, length = (way[i + 1].tip - way[i].tip).norm();
    double height = way[i].height_m * length;
    while (next + 1 < way.size() && joins(way, i, next) &&
           (way[next + 1].tip - way[i].tip).norm() <= step_m * (1 + 1e-9) &&
           on_line(way, axis, i, next + 1)) {
      const double piece = (way[next + 1].tip - way[next].tip).norm();
      volume += way[next].volume_m3;
      height += way[next].height_m * piece;
      length += piece;
      ++next;
    }
    kept.push_back(way[i]);
    kept.back().volume_m3 = volume;
    if (length > 0) kept.back().height_m = height / length;
    indices.push_back(i);
    i = next;
  }
  kept.push_back(way.back());
  indices.push_back(way.size() - 1);
  way = std::move(kept);
  return indices;
}

}  // namespace skewback
