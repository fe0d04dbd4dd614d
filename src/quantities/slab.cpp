#include <algorithm>
#include <cmath>

#include "quantities/quantities.hpp"

namespace skewback {
namespace {

constexpr double kConcreteWeight = 25e3;  // N/m3, reinforced; EN 1991-1-1 table A.1, from memory
constexpr double kSteelDensity = 7850;
constexpr double kCover = 0.04;  // m, to the middle of the bars
constexpr double kAcross = 0.2;  // of the main bars; EN 1992-1-1 9.3.1.1
constexpr double kLaps = 1.1;    // common practice

}  // namespace

SlabDesign solid_slab(double span_m, double plan_m2, const SlabRule& rule) {
  SlabDesign slab;
  slab.span_m = span_m;
  slab.depth_m = std::max(0.15, span_m / rule.span_over_depth + kCover);
  const double load =
      1.35 * (kConcreteWeight * slab.depth_m + rule.finishes_pa) + 1.35 * rule.people_pa;
  slab.moment_nm_per_m = load * span_m * span_m / 8;
  // rectangular stress block, EN 1992-1-1 3.1.7 with lambda 0.8, eta 1, alpha_cc 0.85
  const double d = slab.depth_m - kCover, fcd = 0.85 * rule.fck_pa / 1.5, fyd = rule.fyk_pa / 1.15;
  const double k = std::min(0.5, slab.moment_nm_per_m / (d * d * fcd));
  const double z = d * (1 + std::sqrt(std::max(0.0, 1 - 2 * k))) / 2;
  const double fctm = 0.30e6 * std::pow(rule.fck_pa / 1e6, 2.0 / 3);
  const double least = std::max(0.26 * fctm / rule.fyk_pa, 0.0013) * d;  // 9.2.1.1
  const double area = std::max(least, slab.moment_nm_per_m / (z * fyd));
  slab.steel_mm2_per_m = area * 1e6;
  slab.concrete_m3 = plan_m2 * slab.depth_m;
  // bottom both ways, and the least steel on top both ways
  const double per_m2 = (1 + kAcross) * area + 2 * least;
  slab.steel_kg = kLaps * per_m2 * plan_m2 * kSteelDensity;
  return slab;
}

}  // namespace skewback
