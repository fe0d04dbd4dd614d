#include "ground/bearing.hpp"

#include <algorithm>
#include <cmath>

#include "base/constants.hpp"
#include "loads/loads.hpp"

namespace skewback {
namespace {

constexpr double kSoilPoisson = 0.3;
constexpr double kLeastPhi = 1e-4;  // rad; the formulas have limits at 0, and no values

/// Base turned so that B' <= L'.
struct Turned {
  double b = 0, l = 0, h_b = 0, h_l = 0;
};
Turned turned(const Vec2& effective, const Vec2& h) {
  if (effective.x() <= effective.y()) return {effective.x(), effective.y(), h.x(), h.y()};
  return {effective.y(), effective.x(), h.y(), h.x()};
}

Vec2 effective_size(const Vec2& size, const Vec2& e) { return size - 2 * e.cwiseAbs(); }

void drained(const Soil& soil, const GroundFactors& factors, const Turned& base, double V,
             Bearing& out) {
  const double tan_phi = std::tan(std::max(soil.phi_rad, kLeastPhi)) / factors.tan_phi;
  const double phi = std::atan(tan_phi), c = soil.cohesion_pa / factors.cohesion;
  const double q = soil.weight_n_per_m3 * soil.cover_m, area = base.b * base.l;
  out.n_q = std::exp(kPi * tan_phi) * std::pow(std::tan(kPi / 4 + phi / 2), 2);
  out.n_c = (out.n_q - 1) / tan_phi;
  out.n_gamma = 2 * (out.n_q - 1) * tan_phi;
  const double ratio = base.b / base.l;
  out.s_q = 1 + ratio * std::sin(phi);
  out.s_gamma = 1 - 0.3 * ratio;
  out.s_c = (out.s_q * out.n_q - 1) / (out.n_q - 1);
  const double H = std::hypot(base.h_b, base.h_l);
  const double m_b = (2 + ratio) / (1 + ratio), m_l = (2 + 1 / ratio) / (1 + 1 / ratio);
  const double share = H > 0 ? base.h_l * base.h_l / (H * H) : 0;  // cos^2 of the angle to L
  out.m = m_l * share + m_b * (1 - share);
  const double left = std::max(0.0, 1 - H / (V + area * c / tan_phi));
  out.i_q = std::pow(left, out.m);
  out.i_gamma = std::pow(left, out.m + 1);
  out.i_c = std::max(0.0, out.i_q - (1 - out.i_q) / (out.n_c * tan_phi));
  out.resistance_pa = c * out.n_c * out.s_c * out.i_c + q * out.n_q * out.s_q * out.i_q +
                      0.5 * soil.weight_n_per_m3 * base.b * out.n_gamma * out.s_gamma * out.i_gamma;
}

void undrained(const Soil& soil, const GroundFactors& factors, const Turned& base, Bearing& out) {
  const double cu = soil.undrained_pa / factors.undrained;
  const double H = std::hypot(base.h_b, base.h_l), most = base.b * base.l * cu;
  out.n_c = kPi + 2;
  out.s_c = 1 + 0.2 * base.b / base.l;
  if (H > most) return;  // slides before it bears
  out.i_c = 0.5 * (1 + std::sqrt(1 - H / most));
  out.resistance_pa = out.n_c * cu * out.s_c * out.i_c + soil.weight_n_per_m3 * soil.cover_m;
}

}  // namespace

std::vector<GroundFactors> both_approaches(const Factors& f) {
  const std::string a1 = "actions of the brief (" + f.edition + ")";
  GroundFactors first{.name = "DA1-1",
                      .dead_high = f.dead_high,
                      .dead_low = f.dead_low,
                      .people = f.people,
                      .other = f.other,
                      .warmth = f.warmth,
                      .a_and_b = by_a_and_b(f),
                      .xi = f.xi,
                      .source = a1 + "; EN 1997-1:2004 A, M1 and R1, from memory"};
  GroundFactors second{.name = "DA1-2",
                       .people = 1.15,
                       .other = 1.3,
                       .warmth = 1.3,
                       .tan_phi = 1.25,
                       .cohesion = 1.25,
                       .undrained = 1.4,
                       .source = "EN 1990 A2 set C and EN 1997-1:2004 A, M2 and R1, from memory"};
  GroundFactors third = first;
  third.name = "DA2";
  third.bearing = 1.4;
  third.sliding = 1.1;
  third.source = a1 + "; EN 1997-1:2004 A, M1 and R2, from memory";
  return {first, second, third};
}

Bearing bearing(const Soil& soil, const GroundFactors& factors, const Vec2& size_m,
                const BaseLoad& load) {
  Bearing out;
  out.effective_m = effective_size(size_m, load.eccentricity_m);
  if (!(out.effective_m.minCoeff() > 0) || !(load.vertical_n > 0)) return out;
  const Turned base = turned(out.effective_m, load.horizontal_n);
  if (soil.kind == SoilKind::kDrained) drained(soil, factors, base, load.vertical_n, out);
  if (soil.kind == SoilKind::kUndrained) undrained(soil, factors, base, out);
  out.resistance_pa /= factors.bearing;
  out.resistance_n = out.resistance_pa * base.b * base.l;
  return out;
}

double sliding_resistance(const Soil& soil, const GroundFactors& factors, const Vec2& size_m,
                          const BaseLoad& load) {
  const double V = std::max(0.0, load.vertical_n);
  if (soil.kind == SoilKind::kDrained) {
    return V * std::tan(soil.phi_cv_rad > 0 ? soil.phi_cv_rad : soil.phi_rad) /
           (factors.tan_phi * factors.sliding);
  }
  if (soil.kind == SoilKind::kUnknown) return 0;
  const Vec2 effective = effective_size(size_m, load.eccentricity_m).cwiseMax(0);
  const double cu = soil.undrained_pa / factors.undrained;
  return std::min(effective.x() * effective.y() * cu / factors.sliding, 0.4 * V);
}

Eccentricity eccentricity(const Vec2& size_m, const Vec2& e_m) {
  const double share = e_m.cwiseAbs().cwiseQuotient(size_m).maxCoeff();
  if (share <= 1.0 / 6) return Eccentricity::kWhole;
  return share <= 1.0 / 3 ? Eccentricity::kGap : Eccentricity::kFar;
}

std::optional<double> settlement(const Soil& soil, const Vec2& size_m, double p_pa) {
  if (!(soil.stiffness_pa > 0)) return std::nullopt;
  constexpr double nu = kSoilPoisson;
  const double b = size_m.minCoeff(), m = size_m.maxCoeff() / b, root = std::hypot(m, 1.0);
  const double corner = (m * std::log((1 + root) / m) + std::log(m + root)) / kPi;
  // the middle is the corner of four quarters, each half as wide
  return kPi / 4 * p_pa * b * (1 - nu * nu) * 2 * corner / soil.stiffness_pa;
}

double settlement_share_at_once(const Soil& soil) {
  return soil.kind == SoilKind::kUndrained ? (1 - 0.5) / (1 - kSoilPoisson) : 1;
}

std::optional<Vec2> footing_tilt(const Soil& soil, const Vec2& size_m, double vertical_n,
                                 const Vec2& eccentricity_m) {
  if (!(soil.stiffness_pa > 0)) return std::nullopt;
  const double G = soil.stiffness_pa / (2 * (1 + kSoilPoisson));
  const double B = size_m.minCoeff(), L = size_m.maxCoeff();
  const double about_long = G / (1 - kSoilPoisson) * std::pow(L * B * B * B / 12, 0.75) *
                            std::pow(L / B, 0.25) * (2.4 + 0.5 * B / L);
  const double about_short =
      G / (1 - kSoilPoisson) * std::pow(B * L * L * L / 12, 0.75) * 3 * std::pow(L / B, 0.15);
  const bool x_is_short = size_m.x() <= size_m.y();
  const Vec2 moment = vertical_n * eccentricity_m;
  return Vec2(moment.x() / (x_is_short ? about_long : about_short),
              moment.y() / (x_is_short ? about_short : about_long));
}

double plain_footing_ratio(double pressure_pa, double tension_design_pa) {
  return std::sqrt(3 * std::max(0.0, pressure_pa) / tension_design_pa) / 0.85;
}

}  // namespace skewback
