#pragma once
// Private to strength/: bending of the leaf that is walked on, between two webs.

#include "strength/plate.hpp"

namespace skewback {

struct SkinShape {
  double span_m = 0;    // clear, between the webs
  double length_m = 0;  // from bed to bed
  double leaf_m = 0;
  double turning_left = 0, turning_right = 0;  // of what it is built into, times span / D
};

/// Turning stiffness of a web with its far end hinged (3 E I / height), together with the skin of
/// the next cell (0: none), times span / D of this skin; less what the skin's root gives in its own
/// body, 5.1 M / (E t^2) (O'Donnell 1960, from memory).
[[nodiscard]] double turning(double leaf_m, double span_m, double next_span_m, double web_m,
                             double web_height_m);

/// Greatest tension at a face of the skin. Across the flow with edges that turn; along it with
/// edges that rest, which is on the safe side.
struct SkinStress {
  double across_pa = 0;  // within a layer
  double inside_pa = 0;  // the same, without the loads at a bed
  double along_pa = 0;   // across layers
  bool at_web = false;   // `across_pa` is at a web; else under the load
  bool at_bed = false;   // the load of `across_pa` stands at a bed
};
struct SkinUnits {
  SkinStress patch;  // under 1 N on the square
  SkinStress even;   // under 1 Pa
};

/// Side of the square that gives a thin plate the tension which a square of `side_m` gives to a
/// leaf of that thickness: Westergaard 1926 (from memory), equal areas for his circles.
[[nodiscard]] double equal_side_m(double side_m, double leaf_m);

/// The square stands wherever it is worst: between the webs, in the middle or at a bed, where it
/// stands wholly on this block.
[[nodiscard]] SkinUnits skin_units(const SkinShape& shape, double side_m);

}  // namespace skewback
