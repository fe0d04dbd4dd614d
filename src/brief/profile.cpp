#include "brief/profile.hpp"

#include <algorithm>

#include "base/constants.hpp"

namespace skewback {

std::optional<double> walking_height_m(const Walkway& walkway, const Vec2& p) {
  std::optional<double> height;
  double least = 0;
  for (const std::vector<Vec3>& line : walkway.surface) {
    for (std::size_t i = 1; i < line.size(); ++i) {
      const Vec3 d = line[i] - line[i - 1];
      const double length2 = d.head<2>().squaredNorm();
      const double t =
          length2 > 0 ? std::clamp((p - line[i - 1].head<2>()).dot(d.head<2>()) / length2, 0.0, 1.0)
                      : 0.0;
      const Vec3 q = line[i - 1] + t * d;
      const double distance = (q.head<2>() - p).norm();
      if (!height || distance < least) least = distance, height = q.z();
    }
  }
  return height;
}

double fill_pressure_pa(const Walkway& walkway, const Vec2& p, double extrados_z) {
  if (walkway.fill_density <= 0) return 0;
  const std::optional<double> height = walking_height_m(walkway, p);
  return height ? walkway.fill_density * kGravity * std::max(0.0, *height - extrados_z) : 0;
}

}  // namespace skewback
