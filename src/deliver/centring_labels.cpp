#include <algorithm>
#include <array>

#include "deliver/centring_sheets.hpp"

namespace skewback::deliver {

bool Labels::put(Sheet& sheet, const Vec2& at, const std::string& text, double size_mm,
                 double away_mm, Colour colour, bool above) {
  const double wide = 0.62 * size_mm * static_cast<double>(text.size()), high = 0.75 * size_mm;
  const double near = 0.7 * away_mm;
  std::array<Vec2, 8> lows = {at + Vec2(near, -near - high),
                              at + Vec2(-near - wide, -near - high),
                              at + Vec2(near, near),
                              at + Vec2(-near - wide, near),
                              at + Vec2(away_mm, -high / 2),
                              at + Vec2(-away_mm - wide, -high / 2),
                              at + Vec2(-wide / 2, -away_mm - high),
                              at + Vec2(-wide / 2, away_mm)};
  if (above) std::ranges::rotate(lows, lows.begin() + 6);
  for (const Vec2& low : lows) {
    const Extent box{low, low + Vec2(wide, high)};
    const bool is_taken = std::ranges::any_of(taken_, [&](const Extent& other) {
      return box.low.x() < other.high.x() && other.low.x() < box.high.x() &&
             box.low.y() < other.high.y() && other.low.y() < box.high.y();
    });
    if (is_taken) continue;
    taken_.push_back(box);
    sheet.items.emplace_back(
        Words{low + Vec2(wide / 2, high), text, size_mm, Anchor::kMiddle, false, colour, true});
    return true;
  }
  return false;
}

}  // namespace skewback::deliver
