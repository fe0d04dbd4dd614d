#pragma once
// For tests and benches only: how high a form is over a point.

#include <Eigen/LU>
#include <optional>

#include "form/form.hpp"

namespace skewback {

/// None beside its triangles.
inline std::optional<double> height_at(const Form& form, const Vec2& at) {
  for (const auto& t : form.triangles) {
    const Vec3 &a = form.vertices[std::size_t(t[0])], &b = form.vertices[std::size_t(t[1])],
               &c = form.vertices[std::size_t(t[2])];
    Eigen::Matrix2d m;
    m << (b - a).head<2>(), (c - a).head<2>();
    const Vec2 w = m.inverse() * (at - a.head<2>());
    if (w.minCoeff() < -1e-9 || w.sum() > 1 + 1e-9) continue;
    return a.z() + w[0] * (b - a).z() + w[1] * (c - a).z();
  }
  return std::nullopt;
}

}  // namespace skewback
