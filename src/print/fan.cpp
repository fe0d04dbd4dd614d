#include "print/fan.hpp"

#include <cmath>

namespace skewback {
namespace {

constexpr double kParallel = 1e-7;  // rad: below it sines are as good as angles

/// sin(x A) / sin(A), which goes to x.
double share(double x, double angle) {
  return angle < kParallel ? x : std::sin(x * angle) / std::sin(angle);
}

}  // namespace

Fan fan_between(const Plane& low, const Plane& high) {
  const double angle =
      std::atan2(low.normal.cross(high.normal).norm(), low.normal.dot(high.normal));
  return {low, high, angle};
}

double Fan::level(const Vec3& p) const {
  const double up = low.distance(p), down = -high.distance(p);
  if (angle_rad < kParallel) return up / (up + down);
  return std::atan2(std::sin(angle_rad) * up, std::cos(angle_rad) * up + down) / angle_rad;
}

Plane Fan::surface(double level) const {
  const double a = share(1 - level, angle_rad), b = share(level, angle_rad);
  const Vec3 normal = a * low.normal + b * high.normal;
  const double offset = a * low.normal.dot(low.point) + b * high.normal.dot(high.point);
  const double length = normal.norm();
  const Vec3 near = (1 - level) * low.point + level * high.point;
  const Vec3 unit = normal / length;
  return {near + (offset / length - unit.dot(near)) * unit, unit};
}

double Fan::way(const Vec3& p) const {
  const double up = low.distance(p), down = -high.distance(p);
  if (angle_rad < kParallel) return up + down;
  const double t = level(p);
  return angle_rad * (up + down) / (std::sin(t * angle_rad) + std::sin((1 - t) * angle_rad));
}

}  // namespace skewback
