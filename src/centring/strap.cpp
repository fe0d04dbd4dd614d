#include "centring/strap.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {
namespace {

constexpr double kWide_m = 0.040, kThick_m = 0.0015, kHole_m = 0.005;
constexpr double kUltimate_pa = 330e6, kGammaSteel = 1.25;  // S250GD, EN 10346; EN 1993-1-1 6.1
constexpr double kNail_m = 0.004, kNailLong_m = 0.040, kNailStrength_pa = 600e6;
constexpr double kSawnDensity = 350;  // kg/m3, characteristic of C24, EN 338
constexpr double kGammaJoint = 1.3;
constexpr int kLeastNails = 3, kStraps = 2;

double embedment_pa(double factor, double density) {
  return 1e6 * factor * density * std::pow(1e3 * kNail_m, -0.3);
}

}  // namespace

double nail_in_thin_plate_n(double embedment_pa, double depth_m, double nail_m,
                            double nail_strength_pa) {
  const double d = 1e3 * nail_m, t = 1e3 * depth_m, f = embedment_pa / 1e6;  // mm, N
  const double yield = 0.3 * nail_strength_pa / 1e6 * std::pow(d, 2.6);
  return std::min(0.4 * f * t * d, 1.15 * std::sqrt(2 * yield * f * d));
}

Strap strap_for(const Brief& brief, double pull_n) {
  const CentringRequest& ask = brief.centring;
  const double in_post = nail_in_thin_plate_n(embedment_pa(0.082, kSawnDensity),
                                              kNailLong_m - kThick_m, kNail_m, kNailStrength_pa);
  // one on each face: nails of both sides share the sheet's thickness
  const double in_sheet = nail_in_thin_plate_n(
      embedment_pa(0.11, ask.density), std::min(kNailLong_m - kThick_m, ask.sheet_thickness_m / 2),
      kNail_m, kNailStrength_pa);
  Strap out;
  out.pull_n = pull_n;
  out.nail_n = ask.k_mod * std::min(in_post, in_sheet) / std::max(kGammaJoint, ask.gamma_m);
  out.steel_n = kStraps * 0.9 * (kWide_m - kHole_m) * kThick_m * kUltimate_pa / kGammaSteel;
  if (pull_n > 0)
    out.nails =
        std::max(kLeastNails, static_cast<int>(std::ceil(pull_n / (kStraps * out.nail_n) - 1e-9)));
  return out;
}

}  // namespace skewback
