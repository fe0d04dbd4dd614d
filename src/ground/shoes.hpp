#pragma once
// Steel shoes between springing bed and footing. Rules, with what they rest on:
// - plate: the bed's bounding rectangle and 50 mm all round (common practice), S235;
// - thickness: those 50 mm as a cantilever under the peak pressure of the first bed, elastic:
//   t = c sqrt(3 p / f_y), the next of 12 15 20 25 30 40 50 mm (common practice);
// - sliding: friction 0.2 of steel on mortar (EN 1993-1-8 6.2.2, from memory) under 1.0 times the
//   normal force; the rest by bolts of class 8.8, F_v,Rd = 0.6 f_ub A_s / gamma_M2 through the
//   thread (EN 1993-1-8 Table 3.4, from memory), four at least (common practice);
// - levelling: the footing's tolerance and 10 mm each way (common practice).
// Actions are those of the pads: patterns times ground.tie_factor, combinations as they are.

#include "ground/ground_parts.hpp"
#include "stand/stand.hpp"

namespace skewback {

inline constexpr double kPlateEdge = 0.05;  // m: of a shoe's plate, past the bed all round

struct BedForce {  // of one case on one springing
  std::string case_id;
  double factor = 1;  // on shear and pressure
  double normal_n = 0, shear_n = 0, peak_pa = 0;
};

/// Sizes one shoe for the worst of its cases. `bed_m`: extent of the bed along and across.
[[nodiscard]] Shoe size_shoe(const Brief& brief, const std::string& id, double slope_rad,
                             const Vec2& bed_m, const std::vector<BedForce>& forces);

/// F_v,Rd of one bolt, N.
[[nodiscard]] double bolt_shear(double stress_area_m2, double ultimate_pa, double gamma_m2);

/// c sqrt(3 p / f_y), before it is rounded up.
[[nodiscard]] double plate_thickness(double overhang_m, double pressure_pa, double yield_pa);

/// Per support with a ground block, from the proofs whose pads have a state; none otherwise.
/// `factored`: proofs of combinations. `ties`: those laid and their sizes.
[[nodiscard]] std::vector<Shoe> size_shoes(const Brief& brief, const Assembly& assembly,
                                           const std::vector<CaseProof>& patterns,
                                           const std::vector<CaseProof>& factored,
                                           const std::vector<Tie>& laid,
                                           const std::vector<TieForce>& ties);

/// How far the springing bed reaches in plan inwards and outwards of its line, m.
[[nodiscard]] Vec2 bed_reach(const Brief& brief, const Assembly& assembly, int support);

}  // namespace skewback
