#pragma once
// What the measured points of one bed say of it. Private to survey/.

#include <optional>

#include "survey/as_made.hpp"
#include "survey/beds.hpp"

namespace skewback {

struct BedReading {         // one measured point
  int place = 0;            // 0 to 3 corner, 4 middle: as bed_places
  Vec2 at = Vec2::Zero();   // in the bed's frame
  Vec3 off = Vec3::Zero();  // measured - drawn, in the bed's frame
  double accuracy_m = 0;
};

struct BedShape {
  double height_m = 0;  // plane of the corners along the frame's z, at its origin
  Vec2 slope = Vec2::Zero();
  std::array<double, 4> corner_m = {};  // off that plane
  std::array<Vec2, 4> place = {};       // of the corners
  double proud_m = 0;                   // of the middle off the plane, out of the block
  double turn_rad = 0;                  // in its own plane, about the frame's z
  Vec2 drift_m = Vec2::Zero();          // of its corners in its own plane, mean
  [[nodiscard]] double plane(const Vec2& p) const { return height_m + slope.dot(p); }
  /// Of a point of the bed: with the plane, and along it with the corners. World.
  [[nodiscard]] Vec3 shift(const Frame& frame, const Vec2& p) const {
    return drift_m.x() * frame.x + drift_m.y() * frame.y + plane(p) * frame.z;
  }
  /// Small turn of the bed, world.
  [[nodiscard]] Vec3 turn(const Frame& frame) const {
    return slope.y() * frame.x - slope.x() * frame.y + turn_rad * frame.z;
  }
};

/// None with fewer than three readings or all on a line (within 20 mm).
[[nodiscard]] std::optional<BedShape> shape_of(const Bed& bed,
                                               const std::vector<BedReading>& readings);

/// In the frame of one of its joints. A bed of several joints: corners between its own marks by
/// bilinear interpolation.
[[nodiscard]] BedError error_at(const Bed& bed, const BedShape& shape, const Joint& joint);

}  // namespace skewback
