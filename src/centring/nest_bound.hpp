#pragma once
// How few sheets any layout could do with: a bound, to set what was found against. Theory:
// docs/theory/nesting.md.

#include <algorithm>

#include "centring/centring.hpp"

namespace skewback {

struct SheetsBound {
  std::size_t by_area = 0;  // parts grown by half the gap, over sheets less half a gap all round
  std::size_t by_long = 0;  // parts over half a sheet long all cross its middle line
  [[nodiscard]] std::size_t least() const { return std::max(by_area, by_long); }
};
/// Fewer sheets than this hold the parts in no layout.
[[nodiscard]] SheetsBound sheets_bound(const Brief& brief, const Centring& centring);

/// Least length inside a polygon of an upright line at x in [from, to], both within its extent.
[[nodiscard]] double least_chord_m(const Polygon& outline, double from, double to);

}  // namespace skewback
