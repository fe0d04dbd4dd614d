#pragma once
// Drawings of the programme and of the spares.

#include "deliver/sheet.hpp"
#include "erect/spares.hpp"

namespace skewback::deliver {

/// A line an activity, in rows by kind, over weeks; by mean times. Dark: critical in more than half
/// of the draws. Below, when one, five and nine in ten draws are done.
[[nodiscard]] Sheet programme_sheet(const Spares& spares, double width_mm);

/// "printing" for "print"; a kind it does not know as it is.
[[nodiscard]] std::string kind_words(const std::string& kind);

/// Expected delay over the number of spares, chosen by this tool, by mass, at random; and the risk
/// of waiting for a broken block, against `late_risk`.
[[nodiscard]] Sheet spares_sheet(const Spares& spares, double late_risk, double width_mm);

/// How often the works are done on which day: without spares and with the chosen.
[[nodiscard]] Sheet finish_sheet(const Spares& spares, double width_mm);

/// Ends of an axis in round steps: 0, step, 2 step, ... up to `most` or just above.
struct RoundAxis {
  double step = 1, top = 1;
  int decimals = 0;
};
[[nodiscard]] RoundAxis round_axis(double most, int steps_at_most);

/// A box with its scales: x right, y up, both from a corner.
struct Chart {
  Vec2 at = Vec2::Zero(), size = Vec2::Zero();  // of the box on the sheet; at: its top left
  double x_low = 0, x_high = 1, y_high = 1;
  [[nodiscard]] Vec2 operator()(double x, double y) const {
    return {at.x() + size.x() * (x - x_low) / (x_high - x_low),
            at.y() + size.y() * (1 - y / y_high)};
  }
};
void add_y_axis(Sheet& sheet, const Chart& chart, const RoundAxis& axis, const std::string& words);

}  // namespace skewback::deliver
