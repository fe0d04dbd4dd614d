// What has no tubes in it: loops one inside the other, so spaced that a whole number of them
// reaches the middle of the thickest place, where the last is folded on itself.
#include <algorithm>
#include <cmath>

#include "print/fill_parts.hpp"

namespace skewback::filling {
namespace {

constexpr double kOver = 1.02;  // a bead may be this much over its greatest width: clamped later

/// Radius of the largest circle inside, to 0.05 mm.
double inner_radius(const Region& solid) {
  double low = 0, high = std::sqrt(area(solid.outer) / 3.1) + 1e-3;
  while (high - low > 5e-5) {
    const double middle = (low + high) / 2;
    (offset({solid}, -middle).empty() ? high : low) = middle;
  }
  return low;
}

/// Without what is narrower than twice `d`.
Regions opened(const Regions& solid, double d) { return offset(offset(solid, -d), d); }

void lay_piece(const Region& piece, const FillLimits& limits, Loops& out) {
  const double radius = inner_radius(piece);
  // where the wall narrows, a bead stands for half to one and a half of the spacing
  const double most = std::min(1.2 * limits.bead_m, limits.bead_max_m / 1.5);
  // a hair over is no reason for one loop more: bodies taper by less from layer to layer
  const int n = radius < kOver * limits.bead_max_m
                    ? 1
                    : std::max(2, static_cast<int>(std::ceil(radius / most - 0.03)));
  const double width = radius / n;
  const std::size_t before = out.loops.size();
  // strands of the innermost loop: room for a bead each, and to turn at its ends
  const double closest =
      std::max({0.1 * width, 2 * limits.bead_min_m - width, 2 * limits.turn_radius_least_m});
  for (int j = 0; j < n; ++j) {
    const Regions inset = opened(offset({piece}, -(j + 0.5) * width), closest / 2);
    for (const Region& r : inset) {
      std::vector<Polygon> loops{r.outer};
      loops.insert(loops.end(), r.holes.begin(), r.holes.end());
      for (Polygon& loop : loops) {
        if (area(loop) < 0) std::reverse(loop.begin(), loop.end());
        loop = simplified(loop, 3e-4);
        if (loop.size() > 2 && perimeter(loop) > 2 * width) out.loops.push_back(std::move(loop));
      }
    }
  }
  if (width < limits.bead_min_m && out.loops.size() > before) {
    out.troubles.push_back("a wall of " + millimetres(2 * radius) + " is laid as two beads of " +
                           millimetres(width) + ", under bead_min of " +
                           millimetres(limits.bead_min_m) + ", " + at(centroid(piece)));
  }
}

}  // namespace

void lay_solid(const Regions& solid, const FillLimits& limits, Loops& out) {
  // slivers between a tube's wall and the outline go to the loop beside them
  const Regions pieces = opened(solid, 0.75 * limits.bead_min_m);
  for (const Region& piece : pieces) lay_piece(piece, limits, out);
  constexpr double kSliver = 1.5e-3;  // m2
  if (area(solid) - area(pieces) < kSliver) return;
  for (const Region& rest : subtract(solid, pieces)) {
    const double width = 2 * area(rest) / perimeter(rest.outer);
    if (area(rest) < kSliver || width < 0.25 * limits.bead_min_m) continue;
    out.troubles.push_back("a wall of " + millimetres(width) + " is too thin for two beads and " +
                           "stays bare, " + at(centroid(rest)));
  }
}

}  // namespace skewback::filling
