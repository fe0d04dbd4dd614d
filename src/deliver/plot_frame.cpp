#include "deliver/plot_frame.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr Colour kRule{214, 214, 214};

double round_step(double about) {
  const double base = std::pow(10.0, std::floor(std::log10(about)));
  for (const double lead : {1.0, 2.0, 5.0})
    if (lead * base >= about * (1 - 1e-9)) return lead * base;
  return 10 * base;
}

}  // namespace

std::string Axis::number(double value) const {
  const double unit = std::pow(1000.0, thousands);
  const double shown_step = step / unit;
  const int decimals =
      shown_step >= 1 ? 0 : static_cast<int>(std::ceil(-std::log10(shown_step) - 1e-9));
  const double shown = value / unit;
  return fixed(std::abs(shown) < 1e-9 * shown_step ? 0.0 : shown, std::min(decimals, 12));
}

std::string Axis::named(const std::string& name, const std::string& unit) const {
  static constexpr std::array kTimes{"", "thousand", "million", "thousand million"};
  std::string all = thousands < static_cast<int>(kTimes.size())
                        ? kTimes[static_cast<std::size_t>(thousands)]
                        : "10^" + std::to_string(3 * thousands);
  if (!all.empty() && !unit.empty()) all += " ";
  all += unit;
  return all.empty() ? name : name + ", " + all;
}

Axis axis_over(double low, double high, int marks) {
  if (!(high > low)) {
    const double some = low == 0 ? 1 : 0.1 * std::abs(low);
    low -= some;
    high += some;
  }
  Axis axis;
  axis.step = round_step((high - low) / marks);
  axis.low = axis.step * std::floor(low / axis.step + 1e-9);
  axis.high = axis.step * std::ceil(high / axis.step - 1e-9);
  const double most = std::max(std::abs(axis.low), std::abs(axis.high));
  if (most >= 1e4) axis.thousands = static_cast<int>(std::floor(std::log10(most) / 3));
  return axis;
}

Axis axis_of_labels(const std::vector<std::string>& labels) {
  Axis axis;
  axis.low = -0.5;
  axis.high = static_cast<double>(labels.size()) - 0.5;
  axis.labels = labels;
  return axis;
}

Vec2 PlotFrame::operator()(double at_x, double at_y) const {
  return {foot.x() + size.x() * (at_x - x.low) / (x.high - x.low),
          foot.y() - size.y() * (at_y - y.low) / (y.high - y.low)};
}

void add_frame(Sheet& sheet, const PlotFrame& frame, const std::string& x_name,
               const std::string& y_name) {
  const auto marks = [](const Axis& axis) {
    std::vector<double> at;
    if (!axis.labels.empty())
      for (std::size_t i = 0; i < axis.labels.size(); ++i) at.push_back(static_cast<double>(i));
    else
      for (int i = 0; axis.low + i * axis.step <= axis.high + 1e-6 * axis.step; ++i)
        at.push_back(axis.low + i * axis.step);
    return at;
  };
  const auto text = [](const Axis& axis, double at) {
    return axis.labels.empty() ? axis.number(at) : axis.labels[static_cast<std::size_t>(at)];
  };
  const double left = frame.x.low, low = frame.y.low;
  for (const double y : marks(frame.y)) {
    sheet.line(frame(left, y), frame(frame.x.high, y), {std::nullopt, kRule, 0.12});
    sheet.words(frame(left, y) + Vec2(-1.2, 0.8), text(frame.y, y), 2.2, Anchor::kEnd);
  }
  for (const double x : marks(frame.x)) {
    sheet.line(frame(x, low), frame(x, low) + Vec2(0, 1), {std::nullopt, kBlack, 0.2});
    sheet.words(frame(x, low) + Vec2(0, 3.6), text(frame.x, x), 2.2, Anchor::kMiddle);
  }
  sheet.line(frame(left, low), frame(frame.x.high, low), {std::nullopt, kBlack, 0.25});
  sheet.line(frame(left, low), frame(left, frame.y.high), {std::nullopt, kBlack, 0.25});
  sheet.words({frame.foot.x() + frame.size.x() / 2, frame.foot.y() + 7.4}, x_name, 2.4,
              Anchor::kMiddle);
  sheet.words({frame.foot.x() - 8, frame.foot.y() - frame.size.y() - 2.2}, y_name, 2.4);
}

}  // namespace skewback::deliver
