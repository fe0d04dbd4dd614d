#include "centring/judge_timber.hpp"

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"

namespace skewback {

double relative_slenderness(double slenderness, double strength_pa, double stiffness_low_pa) {
  return slenderness / kPi * std::sqrt(strength_pa / stiffness_low_pa);
}

double buckling_factor(double relative, double beta_c) {
  if (relative <= 0.3) return 1;
  const double k = 0.5 * (1 + beta_c * (relative - 0.3) + relative * relative);
  return 1 / (k + std::sqrt(k * k - relative * relative));
}

double critical_bending_pa(double thickness_m, double depth_m, double length_m,
                           double stiffness_low_pa) {
  return 0.78 * thickness_m * thickness_m * stiffness_low_pa / (depth_m * length_m);
}

double sideways_factor(double relative) {
  if (relative <= 0.75) return 1;
  if (relative <= 1.4) return 1.56 - 0.75 * relative;
  return 1 / (relative * relative);
}

double bolt_in_three_n(double sheet_m, double density, double bolt_m, double bolt_strength_pa) {
  const double d = 1e3 * bolt_m, t = 1e3 * sheet_m;  // the code's formulas are in mm and N
  const double embedment = 0.11 * (1 - 0.01 * d) * density;
  const double yield = 0.3 * bolt_strength_pa / 1e6 * std::pow(d, 2.6);
  const double push = embedment * t * d;
  const double one_hinge = 1.05 * push / 3 * (std::sqrt(4 + 12 * yield / (push * t)) - 1);
  const double two_hinges = 1.15 * std::sqrt(2 * yield * embedment * d);
  return std::min({push, push / 2, one_hinge, two_hinges});
}

double bolt_in_two_n(double first_m, double second_m, double density, double bolt_m,
                     double bolt_strength_pa) {
  const double d = 1e3 * bolt_m, t1 = 1e3 * first_m, t2 = 1e3 * second_m;
  const double f1 = 0.082 * (1 - 0.01 * d) * density, f2 = f1 / (1.35 + 0.015 * d);
  const double b = f2 / f1, r = t2 / t1;
  const double yield = 0.3 * bolt_strength_pa / 1e6 * std::pow(d, 2.6);
  const double both =
      f1 * t1 * d / (1 + b) *
      (std::sqrt(b + 2 * b * b * (1 + r + r * r) + b * b * b * r * r) - b * (1 + r));
  const double hinge_in_second =
      1.05 * f1 * t1 * d / (2 + b) *
      (std::sqrt(2 * b * (1 + b) + 4 * b * (2 + b) * yield / (f1 * d * t1 * t1)) - b);
  const double hinge_in_first =
      1.05 * f1 * t2 * d / (1 + 2 * b) *
      (std::sqrt(2 * b * b * (1 + b) + 4 * b * (1 + 2 * b) * yield / (f1 * d * t2 * t2)) - b);
  const double two_hinges = 1.15 * std::sqrt(2 * b / (1 + b)) * std::sqrt(2 * yield * f1 * d);
  return std::min({f1 * t1 * d, f2 * t2 * d, both, hinge_in_second, hinge_in_first, two_hinges});
}

}  // namespace skewback
