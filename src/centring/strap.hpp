#pragma once
// Steel straps that tie rib to post and post to foot where a foot is held down: 40 x 1.5 mm of
// S250, ring nails 4.0 x 40, one strap on each face. Theory: docs/theory/centring-loads.md.

#include "brief/brief.hpp"

namespace skewback {

struct Strap {
  int nails = 0;       // in each end of each of the two straps
  double pull_n = 0;   // design, both together
  double nail_n = 0;   // what one carries, design
  double steel_n = 0;  // what both straps carry, design
  [[nodiscard]] bool carries() const { return pull_n <= steel_n; }
};
/// `pull_n`: design. Nails: thin plate in single shear, least of (8.9 a, b) without the rope's
/// share, in the sheet and in the post; f_h (8.15), (8.20), M_y (8.14) of EN 1995-1-1; plate net of
/// a hole, f_u of (6.7) EN 1993-1-1. All from memory.
[[nodiscard]] Strap strap_for(const Brief& brief, double pull_n);

/// Of a nail in one thin plate: min(0.4 f_h t d, 1.15 sqrt(2 M_y f_h d)), characteristic, N.
[[nodiscard]] double nail_in_thin_plate_n(double embedment_pa, double depth_m, double nail_m,
                                          double nail_strength_pa);

}  // namespace skewback
