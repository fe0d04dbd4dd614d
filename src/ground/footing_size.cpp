#include "ground/footing_size.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {
namespace {

constexpr double kStep = 0.05, kMostOut = 4, kMostBeyond = 2;  // m

}  // namespace

std::optional<FootingSize> propose_size(const Brief& brief, const FootingLoads& loads, int support,
                                        const FootingSize& drawn) {
  if (loads.cases.empty()) return std::nullopt;
  const Support& line = brief.plan.supports[support];
  const double bed = (line.b - line.a).norm();
  const double shortest = std::ceil(bed / kStep - 1e-9) * kStep;
  std::optional<FootingSize> best;
  for (int i = 1; i * kStep <= kMostOut; ++i) {
    for (int k = 0; k * kStep <= 2 * kMostBeyond; ++k) {
      const FootingSize size{shortest + k * kStep, drawn.inner_m, i * kStep, drawn.depth_m};
      if (best && size.width_m() * size.length_m >= best->width_m() * best->length_m) break;
      const auto cases = footing_cases(brief, loads, support, size);
      const bool will_do = brief.soil.kind == SoilKind::kUnknown
                               ? std::ranges::none_of(cases, &FootingCase::gap)
                               : passes(cases);
      if (!will_do) continue;
      best = size;
      break;
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
