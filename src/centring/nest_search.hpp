#pragma once
// Which part goes on which sheet: several ways tried, the best kept. Private to centring/.

#include "base/progress.hpp"
#include "centring/nest_layout.hpp"

namespace skewback::nest {

struct Item {
  int shape = -1;
  Turn turn;  // that makes the shape the part, up to a shift
  double length_m = 0, area_m2 = 0;
  std::vector<Turn> turns;  // in which its shape may lie, one of each that look alike
};

struct Job {
  std::vector<Shape> shapes;
  std::vector<Item> items;  // each fits on an empty sheet
  Stock stock;
  double sheet_m2 = 0;
  std::size_t sheets_least = 1;  // by area
};

struct Layout {
  std::vector<LaidSheet> sheets;
  double concentration = 0;  // sum of squares of the used shares
};

/// Fewest sheets; of those with as few, the one whose sheets are the least alike, so that most is
/// left of one. The same every time.
[[nodiscard]] Layout search(const Job& job, const Progress& progress);

}  // namespace skewback::nest
