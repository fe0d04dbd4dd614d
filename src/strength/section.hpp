#pragma once
// For strength/ and erect/: a plane cut through a block, and linear stress on it.

#include <optional>
#include <utility>

#include "geometry/geometry.hpp"
#include "stand/half_ring.hpp"

namespace skewback {

/// Volume (m3) and its first moment about the origin of the plane (m4, world axes) of the part of a
/// closed solid in front of it.
struct PartInFront {
  double volume = 0;
  Vec3 moment = Vec3::Zero();
};
[[nodiscard]] PartInFront part_in_front(const Solid& solid, const Plane& plane);

/// Integrals of (1, x, y)(1, x, y)' over a section.
[[nodiscard]] Mat3 moments(const Regions& section);

struct LinearStress {   // of an uncracked section, compression positive
  double least_pa = 0;  // below zero: tension
  double greatest_pa = 0;
  Vec2 least_at = Vec2::Zero();
};
/// `load`: the integrals of stress times (1, x, y), in N, N m, N m.
[[nodiscard]] LinearStress linear_stress(const Regions& section, const Vec3& load);

/// Greatest shear stress over the mean one when a section is sheared along y (or x): A S / (I b)
/// at the height of the centroid (Jourawski 1856); 1.5 for a rectangle.
struct ShearShape {
  double along_x = 1.5, along_y = 1.5;
};
[[nodiscard]] ShearShape shear_shape(const Regions& section);

struct Box2 {
  Vec2 low = Vec2::Zero(), high = Vec2::Zero();
};
[[nodiscard]] Box2 extents(const Regions& section);

/// Where the line x = `x` (`axis` 0) or y = `x` (`axis` 1) runs through the section: from, to.
[[nodiscard]] std::vector<std::pair<double, double>> chords(const Regions& section, int axis,
                                                            double x);

}  // namespace skewback
