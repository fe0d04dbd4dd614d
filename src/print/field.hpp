#pragma once
// Private to print/: the field whose level sets are the layers of a block, 0 on the bed that lies
// on the table, 1 on the far one.

#include <memory>

#include "base/result.hpp"
#include "geometry/geometry.hpp"
#include "print/fan.hpp"

namespace skewback {

class LayerField {
 public:
  virtual ~LayerField() = default;
  [[nodiscard]] virtual double level(const Vec3& p) const = 0;
  [[nodiscard]] virtual Vec3 gradient(const Vec3& p) const = 0;  // 1/m
  /// Frame in which the level set is nearly flat; z the way the layers grow, x near `along`. Where
  /// the levels are no planes, all frames differ by a shift along z only.
  [[nodiscard]] virtual Frame frame_at(double level, const Vec3& along) const = 0;
  [[nodiscard]] virtual bool planes() const { return false; }  // level sets are flat

  /// From bed to bed along the gradient, m; zero or less where levels meet and behind.
  [[nodiscard]] virtual double way(const Vec3& p) const { return 1 / gradient(p).norm(); }
  /// The point of the level set over (x, y) of the frame, looked for along its z.
  [[nodiscard]] Vec3 lift(const Frame& frame, const Vec2& at, double level) const;
};

using FieldPtr = std::shared_ptr<const LayerField>;

/// Planes through the common line of the beds (fan.hpp).
[[nodiscard]] FieldPtr fan_field(const Fan& fan);

/// Harmonic between the beds with no flow through the sides: Ritz's method on the solid, the beds
/// kept by the form of the trial functions, d0 / (d0 + d1) + d0 d1 sum c_k P_k, d the distances
/// from the beds (Kantorovich and Krylov 1958, ch. IV). P: all polynomials to `degree`. Faults: no
/// solution, or levels that turn back inside the solid.
[[nodiscard]] Result<FieldPtr> harmonic_field(const Solid& solid, const Fan& beds, int degree = 4);

/// Even shares of the height between two faces of a solid that lie across `up`: those whose normals
/// are within 45 degrees of down and up, facet by facet. Beside them, where only sides are, each
/// goes on as a polynomial to degree 5. Fault: facets of one face over one another, as of tubes.
[[nodiscard]] Result<FieldPtr> faces_field(const Solid& solid, const Vec3& up);

/// The solid with no edge longer than `longest_m`: triangles halved at their longest edges.
[[nodiscard]] Solid refined(const Solid& solid, double longest_m);

}  // namespace skewback
