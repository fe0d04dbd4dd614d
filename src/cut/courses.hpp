#pragma once
// The body taken apart: courses between joint planes, the slabs of the joints, the key.

#include "base/progress.hpp"
#include "cut/arm_planes.hpp"

namespace skewback {

/// Between two joint planes of an arm, from side to side; not yet divided across, not yet hollow.
struct Course {
  int arm = -1;    // support index; -1: the key
  int number = 1;  // 1 at the springing
  bool crown = false;
  double phi_m = 0;  // of its middle
  Plane low, high;   // mid-planes of its joints, normals up the flow
  bool beds = true;  // has a bed in `low` and in `high`; false: key of three arms or more, or no
                     // bed in `high` because it ends at an eye
  Solid solid;
};

struct Taken {
  std::vector<Course> courses;  // arm by arm upwards, then the key if there is one
  double slab_volume_m3 = 0;    // between courses and along the walls
};

/// Behind the plane and ahead of it. `plainly`: by split_plainly where it can.
[[nodiscard]] Result<std::pair<Solid, Solid>> parted(const Solid& solid, const Plane& plane,
                                                     bool plainly);

/// Courses end half a pad before and behind the planes. Faults: planes that leave nothing between
/// them; solids that cannot be cut. `plainly`: as for parted.
[[nodiscard]] Result<Taken> take_apart(const Body& body, const JointPlanes& planes, double pad_m,
                                       bool plainly, const Progress& progress);

}  // namespace skewback
