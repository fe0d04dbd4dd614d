#pragma once
// The beds of a block: joints towards its support and away from it, plane by plane. Private to
// survey/.

#include <array>
#include <string>
#include <vector>

#include "assembly/assembly.hpp"

namespace skewback {

struct Bed {
  std::string name;         // "near", "far"; else the id of the block it faces
  std::vector<int> joints;  // of one plane
  Frame frame;              // of the first of them
  double side = 1;          // of the block's body along frame.z: away from it
  Regions contact;          // of all, in `frame`
  Vec2 middle = Vec2::Zero();
  double stand_off_m = 0;  // half the pad: how far the bed is from the frame, on the block's side
  /// On the bed, where it is drawn.
  [[nodiscard]] Vec3 on(const Vec2& p) const {
    return frame.to_world(p) + side * stand_off_m * frame.z;
  }
};

/// Near first, then far, then others; head joints are no beds. Keys and blocks without a place:
/// every joint is a bed, named after the block beyond.
[[nodiscard]] std::vector<Bed> beds_of(const Assembly& assembly, int block);

/// Points of a region that reach farthest towards (-,-), (+,-), (+,+), (-,+) of its extent.
[[nodiscard]] std::array<Vec2, 4> extreme_points(const Regions& regions);

/// Five places on the contact, clear of its edges by up to 20 mm: near the four extreme points in
/// their order, and nearest its middle.
[[nodiscard]] std::array<Vec2, 5> bed_places(const Bed& bed);

}  // namespace skewback
