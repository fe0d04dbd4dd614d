#pragma once
// A frame with two axes at round numbers, for plots of figures. Private to deliver/.

#include <string>
#include <vector>

#include "deliver/sheet.hpp"

namespace skewback::deliver {

/// Marks at multiples of 1, 2 or 5 times a power of ten.
struct Axis {
  double low = 0, high = 1;  // ends, at marks
  double step = 1;
  int thousands = 0;                // numbers are written in this power of a thousand
  std::vector<std::string> labels;  // in place of numbers: at 0, 1, 2, ...
  [[nodiscard]] std::string number(double value) const;
  /// A name with its unit and the power of a thousand: "body.mass_kg, thousand".
  [[nodiscard]] std::string named(const std::string& name, const std::string& unit) const;
};
/// About `marks` of them over [low, high]; a range of no width is given some.
[[nodiscard]] Axis axis_over(double low, double high, int marks);
[[nodiscard]] Axis axis_of_labels(const std::vector<std::string>& labels);

struct PlotFrame {
  Vec2 foot, size;  // left foot of the frame on the sheet; width and height
  Axis x, y;
  [[nodiscard]] Vec2 operator()(double at_x, double at_y) const;
};
/// Rules, marks, numbers; `x_name` below, `y_name` over the frame.
void add_frame(Sheet& sheet, const PlotFrame& frame, const std::string& x_name,
               const std::string& y_name);

}  // namespace skewback::deliver
