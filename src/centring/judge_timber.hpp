#pragma once
// Formulas of EN 1995-1-1:2004+A1:2008, all from memory. Private to centring/ and its tests.

namespace skewback {

inline constexpr double kBetaSawn = 0.2;          // straightness of sawn timber, (6.29)
inline constexpr double kLowStiffness = 2.0 / 3;  // E_0.05 over E_mean of softwood, EN 338

/// lambda_rel of (6.21): lambda / pi sqrt(f_c,0,k / E_0.05), lambda = length over radius of
/// gyration.
[[nodiscard]] double relative_slenderness(double slenderness, double strength_pa,
                                          double stiffness_low_pa);
/// k_c of (6.25), (6.27): 1 up to lambda_rel 0.3 (6.3.2 (2)).
[[nodiscard]] double buckling_factor(double relative, double beta_c = kBetaSawn);

/// sigma_m,crit of (6.32), for a rectangle on edge: 0.78 t^2 E_0.05 / (h l_ef).
[[nodiscard]] double critical_bending_pa(double thickness_m, double depth_m, double length_m,
                                         double stiffness_low_pa);
/// k_crit of (6.34); relative = sqrt(f_m,k / sigma_m,crit) (6.30).
[[nodiscard]] double sideways_factor(double relative);

/// What a steel bolt through three sheets of plywood carries per shear plane, characteristic: least
/// of (8.7 g, h, j, k) without the rope's share. Embedment (8.36): 0.11 (1 - 0.01 d) rho, N/mm2;
/// yield moment (8.30): 0.3 f_u d^2.6, N mm. The outer two as thick as the inner.
[[nodiscard]] double bolt_in_three_n(double sheet_m, double density, double bolt_m,
                                     double bolt_strength_pa);

/// The same through two pieces of sawn timber, the force along the grain of the first (a brace) and
/// across that of the second (a post): least of (8.6 a to f) without the rope's share. Embedment
/// (8.32): 0.082 (1 - 0.01 d) rho; across the grain over 1.35 + 0.015 d (8.31, 8.33).
[[nodiscard]] double bolt_in_two_n(double first_m, double second_m, double density, double bolt_m,
                                   double bolt_strength_pa);

}  // namespace skewback
