#include <algorithm>
#include <cmath>
#include <tuple>

#include "deliver/plot_frame.hpp"
#include "deliver/text.hpp"
#include "deliver/vary_plots.hpp"

namespace skewback::deliver {
namespace {

constexpr Colour kDot{170, 205, 228}, kOn{0, 114, 178};

bool has_both(const VaryFront& front, std::size_t r) {
  return front.x.values[r].has_value() && front.y.values[r].has_value();
}

std::string name_of(const VaryColumn& column, const Axis& axis, bool more) {
  return axis.named(column.name, column.unit) + (more ? "; more" : "; less") + " is better";
}

/// As a stair: between two runs of the front nothing better is known.
void add_stair(Sheet& sheet, const PlotFrame& frame, const VaryFront& front) {
  std::vector<Vec2> line;
  for (std::size_t i = 0; i < front.on.size(); ++i) {
    const double x = *front.x.values[front.on[i]], y = *front.y.values[front.on[i]];
    if (i > 0) {
      const double x0 = *front.x.values[front.on[i - 1]], y0 = *front.y.values[front.on[i - 1]];
      // the corner that the run before, or this one, reaches
      line.push_back(front.x_more_is_better ? frame(x0, y) : frame(x, y0));
    }
    line.push_back(frame(x, y));
  }
  if (line.size() > 1) sheet.path(line, false, {std::nullopt, kOn, 0.35});
}

}  // namespace

std::vector<std::size_t> on_front(const VaryFront& front) {
  bool any_holds = false;
  for (std::size_t r = 0; r < front.fails.size(); ++r)
    any_holds = any_holds || (has_both(front, r) && !front.fails[r]);
  std::vector<std::size_t> order;
  for (std::size_t r = 0; r < front.fails.size(); ++r)
    if (has_both(front, r) && (!any_holds || !front.fails[r])) order.push_back(r);
  // From the best x on; of equal x the best y first. What raises y is on the front.
  const double sx = front.x_more_is_better ? -1 : 1, sy = front.y_more_is_better ? -1 : 1;
  const auto x = [&](std::size_t r) { return sx * *front.x.values[r]; };
  const auto y = [&](std::size_t r) { return sy * *front.y.values[r]; };
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return std::tuple(x(a), y(a), a) < std::tuple(x(b), y(b), b);
  });
  std::vector<std::size_t> on;
  double best = HUGE_VAL;
  for (const std::size_t r : order) {
    if (y(r) >= best) continue;
    best = y(r);
    on.push_back(r);
  }
  std::sort(on.begin(), on.end(), [&](std::size_t a, std::size_t b) {
    return std::pair(*front.x.values[a], a) < std::pair(*front.x.values[b], b);
  });
  return on;
}

Sheet front_sheet(const VaryFront& front, const std::string& title) {
  Sheet sheet;
  sheet.width_mm = 210;
  sheet.height_mm = 150;
  sheet.title = title;
  Words head{{10, 11}, title + ": what is gained for what", 4.2};
  head.bold = true;
  sheet.items.emplace_back(head);
  const bool of_failing = !front.on.empty() && front.fails[front.on.front()];
  sheet.words({10, 16.5},
              of_failing ? "No run passes all that was checked; the front is that of all runs."
                         : "Dark, with the number of the run: no other run is better in both. "
                           "White with a red edge: a required check fails.",
              2.6);
  Extent extent;
  for (std::size_t r = 0; r < front.fails.size(); ++r)
    if (has_both(front, r)) extent.add({*front.x.values[r], *front.y.values[r]});
  if (extent.empty()) return sheet;
  PlotFrame frame;
  frame.foot = {24, 134};
  frame.size = {176, 106};
  frame.x = axis_over(extent.low.x(), extent.high.x(), 8);
  frame.y = axis_over(extent.low.y(), extent.high.y(), 6);
  add_frame(sheet, frame, name_of(front.x, frame.x, front.x_more_is_better),
            name_of(front.y, frame.y, front.y_more_is_better));
  add_stair(sheet, frame, front);
  for (std::size_t r = 0; r < front.fails.size(); ++r) {
    if (!has_both(front, r)) continue;
    const Vec2 at = frame(*front.x.values[r], *front.y.values[r]);
    sheet.dot(at, 1.0,
              front.fails[r] ? Pen{Colour{255, 255, 255}, kThrust, 0.3} : Pen{kDot, kOn, 0.15});
  }
  for (const std::size_t r : front.on) {
    const Vec2 at = frame(*front.x.values[r], *front.y.values[r]);
    sheet.dot(at, 1.3,
              front.fails[r] ? Pen{Colour{255, 255, 255}, kThrust, 0.4} : Pen{kOn, kOn, 0.2});
    Words number{at + Vec2(1.8, -1.2), std::to_string(front.numbers[r]), 2.2};
    number.halo = true;
    sheet.items.emplace_back(number);
  }
  return sheet;
}

}  // namespace skewback::deliver
