#include <algorithm>
#include <cmath>

#include "deliver/print_sheets.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr Colour kUnder{190, 190, 190}, kOver{20, 20, 20};

Colour between(Colour a, Colour b, double t) {
  const auto mix = [t](std::uint8_t x, std::uint8_t y) {
    return static_cast<std::uint8_t>(std::lround(x + t * (y - x)));
  };
  return {mix(a.r, b.r), mix(a.g, b.g), mix(a.b, b.b)};
}

}  // namespace

int Ramp::step_of(double value) const {
  const double slack = 1e-6 * (high - low);  // poses are single precision
  if (value < low - slack) return -1;
  if (value > high + slack) return steps;
  return std::clamp(static_cast<int>(steps * (value - low) / (high - low)), 0, steps - 1);
}

Colour Ramp::colour(int step) const {
  if (step < 0) return kUnder;
  if (step >= steps) return kOver;
  const auto last = static_cast<double>(stops.size() - 1);
  const double t = last * step / std::max(1, steps - 1);
  const auto i = std::min(static_cast<std::size_t>(t), stops.size() - 2);
  return between(stops[i], stops[i + 1], t - static_cast<double>(i));
}

Ramp height_ramp(const PrintRequest& cell) {
  return {cell.layer_min_m, cell.layer_max_m, {{245, 226, 100}, {40, 160, 120}, {25, 40, 110}}};
}

Ramp overhang_ramp(const PrintRequest& cell) {
  const double most = std::max(cell.overhang_max_rad, 1e-3);
  return {-most, most, {{0, 90, 160}, {225, 225, 222}, {205, 80, 0}}};
}

void add_ramp_key(Sheet& sheet, const Vec2& at, double width_mm, const Ramp& ramp, double factor,
                  int decimals, const std::string& unit) {
  constexpr double kHigh = 3.2, kEnd = 12;
  const double step = (width_mm - 2 * kEnd) / ramp.steps;
  const auto box = [&](double x, double wide, Colour colour) {
    sheet.path(
        {at + Vec2(x, 0), at + Vec2(x + wide, 0), at + Vec2(x + wide, kHigh), at + Vec2(x, kHigh)},
        true, {colour, kBlack, 0.1});
  };
  box(0, kEnd - 5, ramp.colour(-1));
  for (int i = 0; i < ramp.steps; ++i) box(kEnd + i * step, step, ramp.colour(i));
  box(width_mm - kEnd + 5, kEnd - 5, ramp.colour(ramp.steps));
  constexpr int kTicks = 4;
  for (int i = 0; i <= kTicks; ++i) {
    const double t = static_cast<double>(i) / kTicks;
    sheet.words(at + Vec2(kEnd + t * (width_mm - 2 * kEnd), kHigh + 2.9),
                fixed(factor * (ramp.low + t * (ramp.high - ramp.low)), decimals), 2.2,
                Anchor::kMiddle);
  }
  sheet.words(at + Vec2(0, kHigh + 2.9), "less", 2.2);
  sheet.words(at + Vec2(width_mm, kHigh + 2.9), "more", 2.2, Anchor::kEnd);
  sheet.words(at + Vec2(width_mm + 2, 2.6), unit, 2.2);
}

}  // namespace skewback::deliver
