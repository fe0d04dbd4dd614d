#include "survey/footing_move.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {

FootingMove footing_move(const Support& support, const Rigid& X) {
  const Vec2 middle = (support.a + support.b) / 2, along = (support.b - support.a).normalized();
  const Vec3 at(middle.x(), middle.y(), support.level_m), shift = X(at) - at;
  return {shift.head<2>().dot(Vec2(along.y(), -along.x())), shift.head<2>().dot(along), shift.z(),
          std::atan2(X.R(1, 0) - X.R(0, 1), X.R(0, 0) + X.R(1, 1)),
          std::acos(std::clamp(X.R(2, 2), -1.0, 1.0))};
}

}  // namespace skewback
