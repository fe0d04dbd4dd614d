#include "print/spin.hpp"

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"

namespace skewback {
namespace {

constexpr double kHalfMean = 0.01;  // m

/// Square to the unit axis, unit; any such where v runs along it.
Vec3 square_to(const Vec3& v, const Vec3& axis) {
  const Vec3 flat = v - v.dot(axis) * axis;
  return flat.norm() > 1e-9 ? flat.normalized() : axis.unitOrthogonal();
}

double angle_about(const Vec3& axis, const Vec3& from, const Vec3& to) {
  return std::atan2(axis.dot(from.cross(to)), from.dot(to));
}

/// Of the piece after each tip but the last, about the axis against x; unwound.
std::vector<double> headings(const std::vector<Vec3>& tips, const std::vector<Vec3>& axes,
                             const std::vector<Vec3>& x) {
  std::vector<double> out;
  for (std::size_t i = 0; i + 1 < tips.size(); ++i) {
    const Vec3 ahead = tips[i + 1] - tips[i];
    const Vec3 flat = ahead - ahead.dot(axes[i]) * axes[i];
    const double before = out.empty() ? 0 : out.back();
    out.push_back(before);
    if (flat.norm() < 1e-3 * ahead.norm()) continue;  // straight up: no way to turn to
    const double angle = angle_about(axes[i], x[i], flat);
    out.back() = angle + 2 * kPi * std::round((before - angle) / (2 * kPi));
  }
  return out;
}

}  // namespace

Vec3 carried(const Vec3& x, const Vec3& a, const Vec3& b) {
  const double c = 1 + a.dot(b);
  if (c < 1e-12) return square_to(x, b);
  return square_to(x - x.dot(b) / c * (a + b), b);
}

double spin_rad(const Vec3& x_a, const Vec3& a, const Vec3& x_b, const Vec3& b) {
  return angle_about(b, carried(x_a, a, b), x_b);
}

std::vector<Vec3> least_spin(const std::vector<Vec3>& axes, const Vec3& start) {
  std::vector<Vec3> x;
  for (std::size_t i = 0; i < axes.size(); ++i)
    x.push_back(i == 0 ? square_to(start, axes[0]) : carried(x[i - 1], axes[i - 1], axes[i]));
  return x;
}

Following following(const std::vector<Vec3>& tips, const std::vector<Vec3>& axes,
                    const Vec3& start) {
  Following out;
  out.x = least_spin(axes, start);
  const std::size_t n = tips.size();
  if (n < 2) return out;
  const std::vector<double> heading = headings(tips, axes, out.x);
  std::vector<double> s(n, 0), sum(n, 0);  // way, and integral of the heading over it
  for (std::size_t i = 1; i < n; ++i) {
    s[i] = s[i - 1] + (tips[i] - tips[i - 1]).norm();
    sum[i] = sum[i - 1] + heading[i - 1] * (s[i] - s[i - 1]);
  }
  std::size_t low = 0, high = 0;
  const auto up_to = [&](double way, std::size_t& piece) {
    while (piece + 2 < n && s[piece + 1] <= way) ++piece;
    return sum[piece] + heading[piece] * (way - s[piece]);
  };
  for (std::size_t i = 0; i < n; ++i) {
    const double from = std::max(0.0, s[i] - kHalfMean), to = std::min(s.back(), s[i] + kHalfMean);
    const double before = up_to(from, low), after = up_to(to, high);
    out.x[i] = Eigen::AngleAxisd((after - before) / (to - from), axes[i]) * out.x[i];
  }
  const auto [least, most] = std::ranges::minmax(heading);
  out.turns = (most - least) / (2 * kPi);
  return out;
}

std::vector<Eigen::Quaterniond> turns(const std::vector<Vec3>& axes, const std::vector<Vec3>& x) {
  std::vector<Eigen::Quaterniond> out;
  for (std::size_t i = 0; i < axes.size(); ++i) {
    Mat3 R;
    R << x[i], axes[i].cross(x[i]), axes[i];
    Eigen::Quaterniond q(R);
    q.normalize();
    if (!out.empty() && q.dot(out.back()) < 0) q.coeffs() = -q.coeffs();
    out.push_back(q);
  }
  return out;
}

}  // namespace skewback
