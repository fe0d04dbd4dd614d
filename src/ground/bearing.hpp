#pragma once
// What soil carries below a level rectangular base: EN 1997-1:2004 Annex D, sliding 6.5.3,
// eccentricity 6.5.4. Ground water is not taken into account: `Soil` holds what is effective.
// Theory: docs/theory/ground.md.

#include <optional>
#include <string>
#include <vector>

#include "brief/brief.hpp"

namespace skewback {

/// Partial factors of one combination of a Design Approach.
struct GroundFactors {
  std::string name;
  double dead_high = 1, dead_low = 1;  // on weight
  // on variable actions: people and vehicles; wind and snow; warmth
  double people = 1, other = 1, warmth = 1;
  bool a_and_b = false;                             // 6.10a and 6.10b instead of 6.10
  double xi = 1;                                    // on dead_high in 6.10b
  double tan_phi = 1, cohesion = 1, undrained = 1;  // on soil
  double bearing = 1, sliding = 1;                  // on resistance
  std::string source;
};

/// Design Approach 1, combinations 1 and 2, and Design Approach 2. Factors on actions of set A1 are
/// the brief's, its expression too; those of A2 (6.10), M2 and R2 as recommended, from memory.
[[nodiscard]] std::vector<GroundFactors> both_approaches(const Factors& factors);

struct BaseLoad {  // design values; x: across the springing line, y: along it
  double vertical_n = 0;
  Vec2 horizontal_n = Vec2::Zero();
  Vec2 eccentricity_m = Vec2::Zero();
};

struct Bearing {
  Vec2 effective_m = Vec2::Zero();              // B - 2e in x, L - 2e in y
  double n_q = 0, n_c = 0, n_gamma = 0;         // undrained: n_c = pi + 2
  double s_q = 1, s_c = 1, s_gamma = 1;         // shape
  double m = 0, i_q = 1, i_c = 1, i_gamma = 1;  // inclination
  double resistance_pa = 0, resistance_n = 0;   // design; zero where the load is off the base
};

/// Annex D.4 (drained) or D.3 (undrained). `size_m`: of the base in x and y. The smaller effective
/// side is B', as the annex asks. No depth factor. Soil unknown: all zero.
[[nodiscard]] Bearing bearing(const Soil& soil, const GroundFactors& factors, const Vec2& size_m,
                              const BaseLoad& load);

/// 6.5.3: V tan(phi_cv) / gamma drained, cast against the ground; undrained the lesser of A' c_u
/// and 0.4 V. N. Nothing on the sides of the footing.
[[nodiscard]] double sliding_resistance(const Soil& soil, const GroundFactors& factors,
                                        const Vec2& size_m, const BaseLoad& load);

/// 6.5.4, of the worse of the two directions.
enum class Eccentricity { kWhole, kGap, kFar };  // within a sixth; beyond it; beyond a third
[[nodiscard]] Eccentricity eccentricity(const Vec2& size_m, const Vec2& e_m);

/// Settlement of a stiff rectangle on an elastic half-space with Poisson's ratio 0.3 under the mean
/// pressure p, m: (pi/4) p B (1 - nu^2) I / E, I that of the middle of a flexible rectangle
/// (Steinbrenner 1934, from memory), pi/4 as for a stiff disc (exact there). None without E.
[[nodiscard]] std::optional<double> settlement(const Soil& soil, const Vec2& size_m, double p_pa);

/// Share of the settlement that comes with the load where water cannot leave at once: volume kept,
/// so that (1 - nu) / G falls from nu = 0.3 to 0.5 with the same G; 1 for drained soil.
[[nodiscard]] double settlement_share_at_once(const Soil& soil);

/// Tilt of a stiff rectangle B x L (`size_m`: x, y) on an elastic half-space with Poisson's ratio
/// 0.3 under V at eccentricity e, rad: x: the side that e.x() lies towards goes down, y: likewise.
/// Static stiffness G/(1 - nu) I^0.75 (L/B)^0.25 (2.4 + 0.5 B/L) about the long axis and
/// G/(1 - nu) I^0.75 3 (L/B)^0.15 about the short one (Gazetas 1991, from memory). None without E.
[[nodiscard]] std::optional<Vec2> footing_tilt(const Soil& soil, const Vec2& size_m,
                                               double vertical_n, const Vec2& eccentricity_m);

/// Height over overhang of a plain concrete footing: h/a >= sqrt(3 sigma / f_ctd,pl) / 0.85
/// (EN 1992-1-1 12.9.3).
[[nodiscard]] double plain_footing_ratio(double pressure_pa, double tension_design_pa);

}  // namespace skewback
