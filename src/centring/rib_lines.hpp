#pragma once
// Where ribs run in plan. Private to the folder.

#include <optional>
#include <vector>

#include "brief/brief.hpp"
#include "centring/foot_ground.hpp"
#include "centring/soffits.hpp"

namespace skewback {

/// Leg by leg: the first leg's ribs run on over the keys, and over areas where no foot may stand,
/// as far as the next foot; the others' end where they leave their own leg, or short of a rib that
/// is there already. On two legs the ribs run through.
struct RibLine {
  PlanLine line;
  double length = 0;
  int family = 0;         // ribs that cross ribs tie together: 0 the first leg's, 1 and up the rest
  bool bridging = false;  // beside the first leg's ribs, over an area where no foot may stand
};

struct LineRules {
  double spacing_m = 0.5;  // most
  int more = 0;            // ribs over what the spacing asks for, per leg
};

/// Ribs run square to none of the supports' lines but along each leg, spread over its width like a
/// fan. Empty if no leg has a soffit.
[[nodiscard]] std::vector<RibLine> rib_lines(const Brief& brief, const Assembly& assembly,
                                             const Soffits& all, const LineRules& rules);

/// Ribs beside those laid already, parallel to their leg, under blocks wide of its fan: for each
/// block named a line through its centre of gravity, over its own leg only, unless one is near.
[[nodiscard]] std::vector<RibLine> side_lines(const Brief& brief, const Assembly& assembly,
                                              const Soffits& all, const std::vector<RibLine>& laid,
                                              const std::vector<int>& blocks);

/// Left and right line of a leg: the innermost pair of straight lines, over s along its axis, that
/// keep `inset` from its edges at every station and are widest in the middle of its length.
struct Fan {
  Vec2 foot = Vec2::Zero(), axis = Vec2::UnitX();
  double from = 0, to = 0;                       // stations
  Vec2 low = Vec2::Zero(), high = Vec2::Zero();  // v at s: low.x() + s low.y()
  [[nodiscard]] Vec2 across() const { return {-axis.y(), axis.x()}; }
  [[nodiscard]] double width(double s) const {
    return high.x() - low.x() + s * (high.y() - low.y());
  }
};
[[nodiscard]] std::optional<Fan> fan_over(const Vec2& foot, const Vec2& towards, const Soffits& all,
                                          const std::vector<char>& counts, double inset);

}  // namespace skewback
