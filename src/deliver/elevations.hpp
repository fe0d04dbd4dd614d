#pragma once
// Which blocks are seen square to which arm.

#include <string>
#include <vector>

#include "deliver/deliver.hpp"
#include "deliver/outline.hpp"

namespace skewback::deliver {

struct Elevation {
  std::string title;
  View view;                        // x: metres along the arm from its springing; y: level
  std::vector<std::size_t> blocks;  // those farthest from the eye first
  bool to_top = true;               // the rise is that of what is seen
  double span_m = 0;                // from the springing to the meeting, or to the other springing
  double level_m = 0;               // of the springing
};

/// One for each arm, from its springing on the left to the meeting; a bridge of two supports has
/// one for both. `dossier.cut` must be there.
[[nodiscard]] std::vector<Elevation> elevations(const Dossier& dossier);

/// What every block covers in the plan and in each elevation: slow to find, used by several
/// drawings. Empty without a cut.
struct Outlines {
  std::vector<Regions> plan;  // as the assembly's blocks
  std::vector<Elevation> elevations;
  std::vector<std::vector<Regions>> in_elevation;  // as Elevation::blocks
};
[[nodiscard]] Outlines find_outlines(const Dossier& dossier);

/// Where the resultant across a joint passes through the joint's plane; none where it does not
/// press.
[[nodiscard]] std::optional<Vec3> pressure_point(const Joint& joint,
                                                 const JointResultant& resultant);

}  // namespace skewback::deliver
