#include "erect/shelves.hpp"

#include <algorithm>
#include <limits>

namespace skewback {
namespace {

constexpr double kNear = 1e-9;

struct Row {
  std::size_t from = 0, to = 0;  // items [from, to)
  bool turned = false;
  double depth_m = 0, across_m = 0;
};

double along(const ShelfItem& item, bool turned) { return turned ? item.width_m : item.length_m; }
double across(const ShelfItem& item, bool turned) { return turned ? item.length_m : item.width_m; }

}  // namespace

std::optional<std::vector<OnShelf>> lay_in_rows(const std::vector<ShelfItem>& items,
                                                double floor_length_m, double floor_width_m,
                                                double gap_m) {
  const std::size_t n = items.size();
  std::vector<double> least(n + 1, std::numeric_limits<double>::max());  // length of items [0, i)
  std::vector<Row> last(n + 1);
  least[0] = 0;
  for (std::size_t from = 0; from < n; ++from) {
    if (least[from] == std::numeric_limits<double>::max()) continue;
    for (const bool turned : {false, true}) {
      Row row{from, from, turned, 0, -gap_m};
      for (std::size_t i = from; i < n; ++i) {
        row.to = i + 1;
        row.depth_m = std::max(row.depth_m, along(items[i], turned));
        row.across_m += gap_m + across(items[i], turned);
        if (row.across_m > floor_width_m + kNear) break;
        const double length = least[from] + row.depth_m + (from > 0 ? gap_m : 0);
        if (length >= least[i + 1] - kNear) continue;
        least[i + 1] = length;
        last[i + 1] = row;
      }
    }
  }
  if (least[n] > floor_length_m + kNear) return std::nullopt;
  std::vector<Row> rows;
  for (std::size_t end = n; end > 0; end = rows.back().from) rows.push_back(last[end]);
  std::ranges::reverse(rows);
  std::vector<OnShelf> laid(n);
  double x = 0;
  for (std::size_t r = 0; r < rows.size(); ++r) {
    const Row& row = rows[r];
    double y = -row.across_m / 2;
    for (std::size_t i = row.from; i < row.to; ++i) {
      const double wide = across(items[i], row.turned);
      laid[i] = {
          {x + along(items[i], row.turned) / 2, y + wide / 2}, row.turned, static_cast<int>(r)};
      y += wide + gap_m;
    }
    x += row.depth_m + gap_m;
  }
  return laid;
}

}  // namespace skewback
