#pragma once
// Design strengths of plain concrete. EN 1992-1-1:2004 table 3.1, 3.1.8 and section 12; 12.6.3 as
// carried on in the edition of 2023.

namespace skewback {

/// f_ctm, table 3.1. Pa; `fck_pa` is the cylinder strength.
[[nodiscard]] double mean_tension_pa(double fck_pa);
/// f_ctk,0.05 = 0.7 f_ctm, table 3.1.
[[nodiscard]] double low_tension_pa(double fck_pa);
/// beta_cc: mean strength after `days` over that at 28, of cast concrete at 20 C (3.1.2, from
/// memory).
inline constexpr double kRapidCement = 0.20, kNormalCement = 0.25, kSlowCement = 0.38;
[[nodiscard]] double age_factor(double cement, double days);
/// f_ctm,fl / f_ctm of a member `h_m` deep, (3.23): 1.6 - h, h in metres, never below 1.
[[nodiscard]] double flexural_gain(double h_m);

struct ConcreteDesign {
  double compression_pa = 0;  // f_cd,pl, 12.3.1
  double tension_pa = 0;      // f_ctd,pl, 12.3.1: within a layer
  double layer_pa = 0;        // the same across layers, from the strength between layers
};
/// `plain`: alpha_cc,pl and alpha_ct,pl; `layer_tension_pa`: characteristic, 0: half of f_ctk,0.05.
[[nodiscard]] ConcreteDesign design_strength(double fck_pa, double gamma, double plain,
                                             double layer_tension_pa);

/// f_cvd under a mean compression sigma_cp, (12.5) to (12.7). The last bracket of (12.6) is
/// ((sigma_cp - sigma_c,lim) / 2)^2. Tension (sigma_cp < 0) takes strength away; never below 0.
[[nodiscard]] double shear_strength_pa(double sigma_cp_pa, double tension_pa,
                                       double compression_pa);
/// sigma_c,lim, (12.7).
[[nodiscard]] double shear_limit_stress_pa(double tension_pa, double compression_pa);

/// N_Rd over b h_w f_cd,pl of a wall or strut h_w deep: 1 - 2 e / h_w of a stocky one (12.2), and
/// of a slender one, braced, Phi of (12.11): 1.14 (1 - 2 e / h_w) - 0.02 l_0 / h_w and no more than
/// that. `e`: first-order and, of a slender one, imperfection with it. Below 0: nothing is carried.
[[nodiscard]] double stocky_factor(double e_m, double depth_m);
[[nodiscard]] double slender_factor(double e_m, double depth_m, double effective_length_m);

}  // namespace skewback
