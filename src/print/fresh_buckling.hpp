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

/// A piece of a wall one metre thick, from the foot up; pressure in a straight line from its foot
/// to its top, of what stands over it.
struct WallPiece {
  double height_m = 0;
  double stiffness_pa = 0;  // E
  double pressure_foot_pa = 0, pressure_top_pa = 0;
};
enum class WallEdges { kBothHeld, kOneFree };

/// What all pressures may grow by before a wall buckles between upright edges `width_m` apart:
/// hinged on both, or on one with the other free; foot clamped, top free, nu = 0.3. Of a wall t
/// thick it is t2 times as much. The least x at which D times the bending of w = f(z) g(y) is x N
/// f'2, with g the half-wave sin(pi y / b), which is exact, or y / b, which is the well-known
/// approximation (Timoshenko & Gere 1961, chapter 9, energy method); f by cubic pieces. Tends to
/// 4 or 0.43 pi2 D / b2 for walls much higher than wide and evenly pressed.
[[nodiscard]] double wall_reserve(const std::vector<WallPiece>& pieces, double width_m,
                                  WallEdges edges);
/// Whether the reserve is more than x; quicker.
[[nodiscard]] bool wall_stands(const std::vector<WallPiece>& pieces, double width_m,
                               WallEdges edges, double x);

}  // namespace skewback
