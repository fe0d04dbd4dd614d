#include "ground/footing_size.hpp"

#include <algorithm>
#include <cmath>

#include "ground/shoes.hpp"

namespace skewback {
namespace {

constexpr double kStep = 0.05, kMostOut = 4, kMostBeyond = 2, kMostDeep = 2;  // m

double volume(const FootingSize& size) { return size.width_m() * size.length_m * size.depth_m; }
double stepped(double length) { return std::ceil(length / kStep - 1e-9) * kStep; }

/// Thick enough for what presses on it then, which its weight is part of; false where none is.
bool thicken(const Brief& brief, const FootingLoads& loads, int support, const Vec2& reach_m,
             FootingSize& size) {
  const double overhang = overhang_of(brief.plan.supports[support], size, reach_m);
  while (size.depth_m <= kMostDeep) {
    const auto cases = footing_cases(brief, loads, support, size);
    const bool will_do = brief.soil.kind == SoilKind::kUnknown
                             ? std::ranges::none_of(cases, &FootingCase::gap)
                             : passes(cases);
    if (!will_do) return false;
    const double needed = plain_depth(brief, cases, overhang);
    if (needed <= size.depth_m) return true;
    size.depth_m = std::max(stepped(needed), size.depth_m + kStep);
  }
  return false;
}

}  // namespace

double overhang_of(const Support& line, const FootingSize& size, const Vec2& reach_m) {
  return std::max({(size.length_m - (line.b - line.a).norm()) / 2, size.outer_m - reach_m.y(),
                   size.inner_m - reach_m.x()});
}

double plain_depth(const Brief& brief, const std::vector<FootingCase>& cases, double overhang_m) {
  double pressure_pa = 0;
  for (const FootingCase& c : cases) pressure_pa = std::max(pressure_pa, c.pressure_most_pa);
  return plain_footing_ratio(pressure_pa, footing_tension(brief)) * overhang_m;
}

std::optional<FootingSize> propose_size(const Brief& brief, const FootingLoads& loads, int support,
                                        const FootingSize& drawn, const Vec2& reach_m) {
  if (loads.cases.empty()) return std::nullopt;
  const Support& line = brief.plan.supports[support];
  const double shortest = stepped((line.b - line.a).norm() + 2 * kPlateEdge);
  const double narrowest = stepped(std::max(0.0, reach_m.y()) + kPlateEdge);
  std::optional<FootingSize> best;
  for (int i = 0; narrowest + i * kStep <= kMostOut; ++i) {
    for (int k = 0; k * kStep <= 2 * kMostBeyond; ++k) {
      FootingSize size{shortest + k * kStep, drawn.inner_m, narrowest + i * kStep, drawn.depth_m};
      if (best && volume(size) >= volume(*best)) break;
      if (!thicken(brief, loads, support, reach_m, size)) continue;
      if (!best || volume(size) < volume(*best)) best = size;
    }
  }
  return best;
}

double footing_tension(const Brief& brief) {
  constexpr double fck = 25;                                // MPa
  const double fctk = 0.7 * 0.30 * std::pow(fck, 2.0 / 3);  // EN 1992-1-1 Table 3.1
  return brief.factors.plain * fctk * 1e6 / brief.factors.concrete;
}

}  // namespace skewback
