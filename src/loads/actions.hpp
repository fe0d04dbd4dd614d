#pragma once
// What the codes say of the actions on a footbridge, as plain formulas. SI.

#include <string>
#include <vector>

namespace skewback {

/// Crowd on a loaded length (EN 1991-2:2003, 5.3.2.1): 2 + 120 / (L + 30) kPa, no less than 2.5 and
/// no more than 5. L in m; Pa.
[[nodiscard]] double crowd_pa(double loaded_length_m);

/// Horizontal force along the deck (EN 1991-2:2003, 5.4, from memory): the larger of `share` of the
/// people's whole weight and 60 % of the service vehicle's, N.
[[nodiscard]] double push_along_n(double people_n, double share, double vehicle_n);

/// Service vehicle (EN 1991-2:2003, 5.6.3, from memory).
struct ServiceVehicle {
  double front_n = 80e3, rear_n = 40e3;  // axles
  double wheelbase_m = 3.0, track_m = 1.3, wheel_m = 0.2;
};

/// Basic velocity pressure (EN 1991-1-4:2005, 4.5): 0.5 * 1.25 * v^2, Pa.
[[nodiscard]] double basic_wind_pa(double speed_m_s);

/// Peak velocity pressure (EN 1991-1-4:2005, 4.3.2, 4.4, 4.5; the roughness factor from memory) at
/// a height over terrain of roughness length z0, flat ground, Pa. Below 2 m it is that at 2 m.
[[nodiscard]] double peak_wind_pa(double speed_m_s, double height_m, double roughness_m);

inline constexpr double kWindSide = 2.4;     // EN 1991-1-4:2005, figure 8.3, largest; from memory
inline constexpr double kWindLift = 0.9;     // 8.3.3, up or down; from memory
inline constexpr double kOpenParapet = 0.3;  // m of height for each; table 8.1, from memory
inline constexpr double kSnowShape = 0.8;    // mu_1 flat; EN 1991-1-3:2003, 5.3, from memory

/// A variable action in a combination: its partial factor, and psi_0 where it only accompanies.
struct VariableAction {
  double gamma = 0, psi = 1;
};
/// Factors on the variable actions in EN 1990:2002, equation 6.10: the first leads.
[[nodiscard]] std::vector<double> factors_6_10(const std::vector<VariableAction>& variable);

struct WeightFactors {
  double high = 1.35, low = 1.0;
  double xi = 0.85;  // on `high` in 6.10b
};
struct FactorSet {
  std::string letter;  // "a", "b" of 6.10a and 6.10b; else empty
  double weight = 1;
  std::vector<double> variable;
};
/// Weight high (EN 1990:2002, 6.4.3.2): 6.10; or 6.10a (psi_0 on the leading action too) and 6.10b
/// (xi on the weight). Without variable actions 6.10b asks less than 6.10a and is left out.
[[nodiscard]] std::vector<FactorSet> heavy_sets(const WeightFactors& weight, bool a_and_b,
                                                const std::vector<VariableAction>& variable);
/// Weight low: that of 6.10 for all expressions, since xi is on high weight only and 6.10a then
/// has no more of anything.
[[nodiscard]] FactorSet light_set(const WeightFactors& weight,
                                  const std::vector<VariableAction>& variable);

}  // namespace skewback
