#pragma once
// Which footing would do. Private to ground/.

#include <optional>

#include "ground/footing_checks.hpp"

namespace skewback {

struct FootingLoads {  // on one footing
  FootingAction dead;
  struct Part {  // what a variable action adds to it, characteristic
    ActionPart of;
    FootingAction action;
  };
  struct Together {
    std::string id;
    std::vector<Part> parts;
  };
  std::vector<Together> cases;
};

/// One load on one base: bearing, sliding, eccentricity.
[[nodiscard]] FootingCase footing_case(const Soil& soil, const FootingSize& size,
                                       const GroundFactors& factors, const BaseLoad& load);

/// The worst set of factors of each combination, both approaches, dead load high and low: effects
/// of actions times their factors, added up (EN 1997-1:2004, 2.4.7.3.2).
[[nodiscard]] std::vector<FootingCase> footing_cases(const Brief& brief, const FootingLoads& loads,
                                                     int support, const FootingSize& size);
[[nodiscard]] bool passes(const std::vector<FootingCase>& cases);

/// Least concrete that passes with the shoe's plate on it and needs no bars (plain_footing_ratio):
/// width out from the springing line, length and thickness in steps of 50 mm, up to 4 m out, 2 m
/// beyond each end and 2 m thick; no thinner than drawn, the inner edge as drawn. Soil unknown: the
/// least on which no edge lifts in any case. `reach_m` as for check_footing.
[[nodiscard]] std::optional<FootingSize> propose_size(const Brief& brief, const FootingLoads& loads,
                                                      int support, const FootingSize& drawn,
                                                      const Vec2& reach_m);

/// Furthest that a footing goes past the bed on it, m.
[[nodiscard]] double overhang_of(const Support& line, const FootingSize& size, const Vec2& reach_m);
/// Thickness that such an overhang needs without bars, m; 0 under no pressure.
[[nodiscard]] double plain_depth(const Brief& brief, const std::vector<FootingCase>& cases,
                                 double overhang_m);

/// f_ctd,pl of the footing's concrete, taken as C25/30: the brief has none. Pa.
[[nodiscard]] double footing_tension(const Brief& brief);

}  // namespace skewback
