#pragma once
// Private to verify/: who touches whom, from the shapes of the blocks.

#include "verify/model.hpp"

namespace skewback::audit {

struct Contact {
  int a = -1, b = -1;
  Vec3 origin, x, y, normal;  // mid-plane; the normal points from a into b
  std::vector<Vec2> hull;   // convex hull of where the two blocks' faces overlap, counter-clockwise
  double friction_low = 0;  // least and greatest that the file allows for it; they differ only for
  double friction_high = 0;  // contacts that the file does not list
  [[nodiscard]] Vec3 world(const Vec2& p) const { return origin + p.x() * x + p.y() * y; }
  /// Distance of p from the hull in the plane (0 inside), and from the plane.
  [[nodiscard]] double outside(const Vec3& p) const;
  [[nodiscard]] double off_plane(const Vec3& p) const { return std::abs(normal.dot(p - origin)); }
};

/// Every pair of opposed faces that touch, or that stand apart by the pad of a joint listed for
/// their two blocks, whether or not the file lists that contact.
[[nodiscard]] std::vector<Contact> derive_contacts(const Model& model);

}  // namespace skewback::audit
