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
/// the next cell (0: none), times span / D of this skin.
[[nodiscard]] double turning(double leaf_m, double span_m, double next_span_m, double web_m,
                             double web_height_m);

/// Greatest tension at a face of the skin. Sagging with edges that turn, hogging with clamped ones:
/// each on its safe side.
struct SkinStress {
  double across_pa = 0;  // within a layer
  double along_pa = 0;   // across layers
  bool at_web = false;   // `across_pa` is at a web; else under the load
  bool at_bed = false;   // the load stands at the bed
};

/// A load on a square of `side_m`, spread at 45 degrees to the middle of the leaf (EN 1991-2 4.3.6,
/// from memory), wherever it is worst: between the webs, in the middle or at a bed.
[[nodiscard]] SkinStress patch_stress(const SkinShape& shape, double load_n, double side_m);
/// Under even pressure alone.
[[nodiscard]] SkinStress even_stress(const SkinShape& shape, double q_pa);
/// The sum of both, each where it is worst; `patch_n` 0: none.
[[nodiscard]] SkinStress skin_stress(const SkinShape& shape, double patch_n, double side_m,
                                     double q_pa);

}  // namespace skewback
