#pragma once
// How far points are from the surface of a solid (geometry/cgal_distance.cpp).

#include <memory>

#include "geometry/geometry.hpp"

namespace skewback {

struct OnSurface {
  Vec3 at = Vec3::Zero();       // nearest point of the surface
  Vec3 normal = Vec3::UnitZ();  // outward, of the face it lies on
};

/// A solid's faces in a tree of boxes, made once and asked often. Safe to ask from several threads.
class NearSurface {
 public:
  /// Faults: not a closed two-sided surface.
  [[nodiscard]] static Result<NearSurface> of(const Solid& solid);
  [[nodiscard]] OnSurface nearest(const Vec3& p) const;
  [[nodiscard]] double distance(const Vec3& p) const;  // m, > 0 outside the solid

 private:
  struct Tree;
  explicit NearSurface(std::shared_ptr<const Tree> tree) : tree_(std::move(tree)) {}
  std::shared_ptr<const Tree> tree_;
};

}  // namespace skewback
