#pragma once
// Rectangles laid in rows, in the order given. Private to erect/.

#include <optional>
#include <vector>

#include "geometry/geometry.hpp"

namespace skewback {

struct ShelfItem {
  double length_m = 0, width_m = 0;
};
struct OnShelf {
  Vec2 at =
      Vec2::Zero();     // middle; x from the end where the first row lies, y from the middle line
  bool turned = false;  // its length along y
  int row = 0;
};
/// Rows run across the floor (y) and follow one another along it (x), items in order; all of a row
/// lie the same way; `gap_m` between items and between rows. Of all ways to part the items into
/// rows the one that takes least length (dynamic programme). None if that is longer than the floor.
[[nodiscard]] std::optional<std::vector<OnShelf>> lay_in_rows(const std::vector<ShelfItem>& items,
                                                              double floor_length_m,
                                                              double floor_width_m, double gap_m);

}  // namespace skewback
