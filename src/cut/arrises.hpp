#pragma once
// Arrises that chip: found, and cut back to a narrow face.

#include <vector>

#include "base/constants.hpp"
#include "geometry/geometry.hpp"

namespace skewback {

inline constexpr double kSharpArris_rad = 30 * kPi / 180;  // ours; no source
inline constexpr double kLeastArris_m = 0.02;              // sharp length in a block that matters

/// An edge whose faces meet inside the solid at under 30 degrees.
struct SharpEdge {
  int from = 0, to = 0;  // vertices
  double inside_rad = 0;
  Vec3 outwards = Vec3::Zero();  // unit, along the middle of the wedge to its edge
};
/// A hole's edges too. Faces of next to no area are left out, and so are folds of the surface: 10
/// mm behind the edge the solid has to be a wedge still.
[[nodiscard]] std::vector<SharpEdge> sharp_edges(const Solid& solid);

struct Arris {
  double inside_rad = 0;  // the sharpest; pi where there is none
  double length_m = 0;    // of all
};
[[nodiscard]] Arris sharpest_arris(const Solid& solid);

struct Blunted {
  Solid solid;
  double removed_m3 = 0;
  int arrises = 0;  // that were cut back
};
/// Each sharp arris cut back to a face `face_m` wide, square to the middle of its wedge: an arris
/// is a run of sharp edges, and the face goes along their mean. Where that
/// plane would reach other parts of the solid a box around the tip goes (not `plainly`). One stays
/// where the cut would cost over 4 % of the solid or not leave it in one piece. `plainly`: as for
/// parted.
[[nodiscard]] Blunted blunted(Solid solid, double face_m, bool plainly);

}  // namespace skewback
