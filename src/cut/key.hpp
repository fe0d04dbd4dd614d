#pragma once
// The key: what stands between the last joints of the arms, divided from its middle if it is too
// heavy.

#include "body/body.hpp"
#include "cut/arm_planes.hpp"

namespace skewback {

struct KeyPieces {
  std::vector<Solid> parts;  // counter-clockwise
  struct Joint {
    int a = -1, b = -1;  // parts
    Plane plane;         // mid-plane, normal from a to b
    Solid pad;           // empty when dry
  };
  std::vector<Joint> joints;
  double core_volume_m3 = 0;  // of the pad where the pads between parts meet
  std::string remark;         // how it was divided, in words
};

/// `key` ends half a pad ahead of the arms' last planes.
[[nodiscard]] Result<KeyPieces> divide_key(const Brief& brief, const Body& body, const Solid& key,
                                           const std::vector<ArmCuts>& arms);

}  // namespace skewback
