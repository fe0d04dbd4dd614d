#pragma once
// Joints between blocks that face each other across a plane, and their pads.

#include <optional>

#include "assembly/assembly.hpp"
#include "brief/brief.hpp"

namespace skewback {

/// The faces of some blocks in the two sides of one joint plane, found once.
class Facing {
 public:
  /// `mid`: normal from the blocks in `below` to those in `above` (indices into the assembly).
  Facing(const JointRequest& request, const Assembly& assembly, const Plane& mid,
         const std::vector<int>& below, const std::vector<int>& above);

  /// One joint for each pair that shares more than a sliver, in the order of `below`, then `above`.
  [[nodiscard]] std::vector<Joint> joints() const;

 private:
  struct Face {
    int block = -1;
    Regions regions;
    Vec2 low = Vec2::Zero(), high = Vec2::Zero();  // its box
  };
  [[nodiscard]] std::vector<Face> faces(const Assembly& assembly, const std::vector<int>& blocks,
                                        int facing) const;
  [[nodiscard]] std::optional<Joint> joint(const Face& a, const Face& b) const;

  const JointRequest& request_;
  Plane mid_;
  Frame frame_;
  std::vector<Face> below_, above_;
};

/// The pad as it is cut: the contact, as thick as the pad. Empty without a pad.
[[nodiscard]] Solid pad_solid(const Joint& joint);

}  // namespace skewback
