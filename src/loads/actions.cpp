#include "loads/actions.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {

double crowd_pa(double loaded_length_m) {
  return std::clamp(2.0e3 + 120e3 / (loaded_length_m + 30), 2.5e3, 5.0e3);
}

double push_along_n(double people_n, double share, double vehicle_n) {
  return std::max(share * people_n, 0.6 * vehicle_n);
}

double basic_wind_pa(double speed_m_s) { return 0.5 * 1.25 * speed_m_s * speed_m_s; }

double peak_wind_pa(double speed_m_s, double height_m, double roughness_m) {
  const double z = std::max(2.0, height_m);
  const double k = 0.19 * std::pow(roughness_m / 0.05, 0.07);
  const double log = std::log(z / roughness_m);
  const double turbulence = 1 / log;
  return (1 + 7 * turbulence) * basic_wind_pa(k * log * speed_m_s);
}

std::vector<double> factors_6_10(const std::vector<VariableAction>& variable) {
  std::vector<double> out;
  for (std::size_t i = 0; i < variable.size(); ++i) {
    out.push_back(variable[i].gamma * (i == 0 ? 1.0 : variable[i].psi));
  }
  return out;
}

std::vector<FactorSet> heavy_sets(const WeightFactors& weight, bool a_and_b,
                                  const std::vector<VariableAction>& variable) {
  const std::vector<double> led = factors_6_10(variable);
  if (!a_and_b) return {{"", weight.high, led}};
  if (variable.empty()) return {{"a", weight.high, {}}};
  std::vector<double> none_leads;
  for (const VariableAction& action : variable) none_leads.push_back(action.gamma * action.psi);
  return {{"a", weight.high, none_leads}, {"b", weight.xi * weight.high, led}};
}

FactorSet light_set(const WeightFactors& weight, const std::vector<VariableAction>& variable) {
  return {"", weight.low, factors_6_10(variable)};
}

}  // namespace skewback
