#include "strength/concrete.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {

double mean_tension_pa(double fck_pa) {
  const double fck = fck_pa / 1e6;
  const double fctm =
      fck <= 50 ? 0.30 * std::pow(fck, 2.0 / 3) : 2.12 * std::log(1 + (fck + 8) / 10);
  return fctm * 1e6;
}

double low_tension_pa(double fck_pa) { return 0.7 * mean_tension_pa(fck_pa); }

double age_factor(double cement, double days) {
  return std::exp(cement * (1 - std::sqrt(28 / days)));
}

double stocky_factor(double e_m, double depth_m) { return 1 - 2 * e_m / depth_m; }

double slender_factor(double e_m, double depth_m, double effective_length_m) {
  const double stocky = stocky_factor(e_m, depth_m);
  return std::min(stocky, 1.14 * stocky - 0.02 * effective_length_m / depth_m);
}

double flexural_gain(double h_m) { return std::max(1.6 - h_m, 1.0); }

ConcreteDesign design_strength(double fck_pa, double gamma, double plain, double layer_tension_pa) {
  const double low = low_tension_pa(fck_pa);
  const double between = layer_tension_pa > 0 ? layer_tension_pa : 0.5 * low;
  return {plain * fck_pa / gamma, plain * low / gamma, plain * std::min(between, low) / gamma};
}

double shear_limit_stress_pa(double tension_pa, double compression_pa) {
  return compression_pa - 2 * std::sqrt(tension_pa * (tension_pa + compression_pa));
}

double shear_strength_pa(double sigma_cp_pa, double tension_pa, double compression_pa) {
  const double over =
      std::max(sigma_cp_pa - shear_limit_stress_pa(tension_pa, compression_pa), 0.0) / 2;
  const double square = tension_pa * tension_pa + sigma_cp_pa * tension_pa - over * over;
  return std::sqrt(std::max(square, 0.0));
}

}  // namespace skewback
