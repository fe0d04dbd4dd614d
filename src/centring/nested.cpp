#include "centring/nested.hpp"

#include <algorithm>
#include <cmath>

namespace skewback {

Vec2 on_sheet(const NestedPart& nested, const Vec2& p) {
  const Vec2 q(nested.flipped ? -p.x() : p.x(), p.y());
  return nested.at + Eigen::Rotation2Dd(nested.turn_rad) * q;
}

Region on_sheet(const NestedPart& nested, const Region& outline) {
  const auto moved = [&](const Polygon& ring) {
    Polygon out;
    for (const Vec2& p : ring) out.push_back(on_sheet(nested, p));
    if (nested.flipped) std::ranges::reverse(out);
    return out;
  };
  Region out{moved(outline.outer), {}};
  for (const Polygon& hole : outline.holes) out.holes.push_back(moved(hole));
  return out;
}

}  // namespace skewback
