#pragma once
// Private to print/: does what is fresh buckle under its own weight, as a column or as a wall.

#include <vector>

namespace skewback {

/// A piece of a column fixed at its foot and free at its top; pieces from the foot up.
struct ColumnPiece {
  double height_m = 0;
  double weight_n = 0;       // spread evenly over its height
  double stiffness_nm2 = 0;  // E I
};
/// What all weights may grow by before the column buckles: the least x at which
/// (E I t')' + x N t = 0 has a solution with t = 0 at the foot and E I t' = 0 at the top, t the
/// slope and N the weight above (Greenhill 1881; for an even column x w H3 / (E I) = 7.837, with w
/// the weight of a metre). Plane bending, no shear. Infinite without weight or pieces.
[[nodiscard]] double column_reserve(const std::vector<ColumnPiece>& pieces);

/// Height at which an even column buckles under its own weight, m: (7.837 E I / (rho g A))^(1/3).
[[nodiscard]] double column_height_m(double stiffness_pa, double second_moment_m4, double area_m2,
                                     double density);

/// Pressure at which a long wall pressed along its length buckles between its edges, Pa:
/// k pi2 E / (12 (1 - nu2)) (t/b)2, hinged edges, k = 4 held on both, 0.43 with one free
/// (Timoshenko & Gere 1961, chapter 9; from memory), nu = 0.3: of a softer mix nearer to 0.5 the
/// pressure is greater. `width_m` between what holds it, or from there to the free edge.
[[nodiscard]] double wall_pressure_pa(double stiffness_pa, double thickness_m, double width_m,
                                      bool edge_free);

}  // namespace skewback
