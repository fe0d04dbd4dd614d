#pragma once
// Joint planes: square to the resultant of the net across level sets of phi. Below the waists they
// run from free edge to free edge of their arm; above, they close into rings round the key or the
// eye, divided by walls along the ridges between the arms.

#include <optional>
#include <string>

#include "cut/levels.hpp"
#include "cut/spacing.hpp"

namespace skewback {

struct ArmCuts {
  int support = -1;
  std::string name;           // of the support
  std::vector<Plane> planes;  // [0] springing, then up the flow; normals point up the flow
  std::vector<double> phi_m;  // of each plane
  std::size_t trunk = 0;      // index of the last plane that runs from free edge to free edge
  double width_max_m = 0;     // of the trunk
};

struct JointPlanes {
  std::vector<ArmCuts> arms;
  bool crown = false;        // three arms or more, or an eye, and too heavy for a key in one piece
  std::vector<Plane> walls;  // [k] between arm k and the next, normal towards the next
  bool eye = false;          // the crown ends at an opening and has no key
  bool by_legs = false;      // last planes may pass through other legs, where they cut nothing
  // set: the key is divided, its parts run on from their arms to this point (three arms)
  std::optional<Vec2> hub;
  Vec2 middle = Vec2::Zero();
};

/// Limits on courses of one arm; the caller tightens them until the exact masses fit.
struct ArmLimits {
  double course_mass_most_kg = 0;
};

/// Faults: planes that cannot be kept apart.
[[nodiscard]] Result<JointPlanes> joint_planes(const Brief& brief, const Body& body,
                                               const std::vector<ArmLimits>& limits);

/// The crown alone. `arms` hold the trunks; rings are added to them. (crown_planes.cpp)
[[nodiscard]] Result<JointPlanes> with_crown(const Brief& brief, const Body& body,
                                             const std::vector<ArmLimits>& limits,
                                             JointPlanes planes);

/// What lies ahead of every plane. `plainly`: by plain arithmetic alone. Faults: a boolean that
/// fails, or a solid that is not for plain arithmetic. (crown_planes.cpp)
[[nodiscard]] Result<Solid> ahead_of_all(Solid solid, const std::vector<Plane>& planes,
                                         bool plainly);

/// Parts side by side in a course of this width.
[[nodiscard]] int parts_across(const BlockRequest& blocks, double width_m);

}  // namespace skewback
