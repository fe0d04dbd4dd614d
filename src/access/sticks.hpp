#pragma once
// The timber of a carried walkway. Rules, from memory where not said otherwise:
// - softwood C24 (EN 338: f_m,k 24, f_v,k 4.0 MPa, E 11 GPa), outdoors (service class 3),
// short-term
//   load: k_mod 0.70, gamma_M 1.3, k_cr 0.67, k_h = (150 / h)^0.2 to 1.3 (EN
//   1995-1-1 2.4, 3.1, 3.2);
// - bending 6 M / (b h^2) and shear 1.5 V / (k_cr b h), all parts simply supported; a concentrated
//   load shears most where it ends a depth off the support (EN 1995-1-1 6.1.7);
// - loads: people, or the concentrated load of the brief on its square, each with its factor and
//   the timber's own weight with the high factor on weight (EN 1991-2 5.3.2: one or the other);
// - a board of 200 mm takes the concentrated load alone, and so do a bearer and the cap of a frame;
// - a bearer sags by 1/300 of its span at most under the load as it is (EN 1995-1-1 7.2).
// Not checked: bearing across the grain, fixings, posts (stout), bracing, sway.

#include "access/access.hpp"

namespace skewback::access {

/// The least timber by mass; where none of the series does, the stoutest with its utilisation.
[[nodiscard]] Sticks size_sticks(const Brief& brief);

/// Of a stick of b x h on a span under an even load (N/m) and a load P on a length a at the worst
/// place, design values: the greater of bending and shear over what C24 carries.
struct StickLoad {
  double even_n_per_m = 0, patch_n = 0, patch_m = 0;
};
[[nodiscard]] StickUse stick_use(double width_m, double height_m, double span_m,
                                 const StickLoad& load);

}  // namespace skewback::access
