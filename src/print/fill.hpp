#pragma once
// Private to print/: one closed path through a plane section, in beads of varying width.
// Theory: docs/theory/fill.md.

#include <optional>

#include "print/print_parts.hpp"

namespace skewback {

/// One path where the section hangs together: closed, crossing itself nowhere, counter-clockwise,
/// from the point nearest to `start` (without it, that of least x, then y) on. Share times length
/// comes to the section's area. `laid_m2` is that sum before the shares are scaled to it; a scale
/// outside 0.99 to 1.01 is a trouble. Where paths cannot be joined there are more strokes, and a
/// trouble says where. An empty section gives no stroke.
[[nodiscard]] Fill fill_section(const Region& section, const FillLimits& limits,
                                const std::optional<Vec2>& start = {});

struct Cover {
  double gap_m2 = 0;      // of the section, under no bead
  double twice_m2 = 0;    // of the section, under two beads or more
  double outside_m2 = 0;  // of beads, outside the section
};
/// Beads as strips `share` wide, half to each side, mitred where they turn. Exact along lines
/// parallel to x, summed over lines `line_m` apart.
[[nodiscard]] Cover measure_cover(const Region& section, const std::vector<Stroke>& strokes,
                                  double line_m = 0.002);

}  // namespace skewback
