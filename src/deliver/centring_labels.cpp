#include <algorithm>
#include <array>
#include <cmath>

#include "base/constants.hpp"
#include "deliver/centring_sheets.hpp"

namespace skewback::deliver {
namespace {

Vec2 room_of(const std::string& text, double size_mm) {
  return {0.62 * size_mm * static_cast<double>(text.size()), 0.75 * size_mm};
}

}  // namespace

bool Labels::is_taken(const Extent& box) const {
  return std::ranges::any_of(taken_, [&](const Extent& other) {
    return box.low.x() < other.high.x() && other.low.x() < box.high.x() &&
           box.low.y() < other.high.y() && other.low.y() < box.high.y();
  });
}

void Labels::set(Sheet& sheet, const Extent& box, const std::string& text, double size_mm,
                 Colour colour) {
  taken_.push_back(box);
  sheet.items.emplace_back(Words{{(box.low.x() + box.high.x()) / 2, box.high.y()},
                                 text,
                                 size_mm,
                                 Anchor::kMiddle,
                                 false,
                                 colour,
                                 true});
}

bool Labels::put(Sheet& sheet, const Vec2& at, const std::string& text, double size_mm,
                 double away_mm, Colour colour) {
  const Vec2 room = room_of(text, size_mm);
  const double wide = room.x(), high = room.y(), near = 0.7 * away_mm;
  const std::array<Vec2, 8> lows = {at + Vec2(near, -near - high),
                                    at + Vec2(-near - wide, -near - high),
                                    at + Vec2(near, near),
                                    at + Vec2(-near - wide, near),
                                    at + Vec2(away_mm, -high / 2),
                                    at + Vec2(-away_mm - wide, -high / 2),
                                    at + Vec2(-wide / 2, -away_mm - high),
                                    at + Vec2(-wide / 2, away_mm)};
  for (const Vec2& low : lows) {
    const Extent box{low, low + room};
    if (is_taken(box)) continue;
    set(sheet, box, text, size_mm, colour);
    return true;
  }
  return false;
}

bool Labels::put_led(Sheet& sheet, const Vec2& at, const std::string& text, double size_mm,
                     double away_mm, double far_mm, Colour colour) {
  constexpr int kWays = 24;
  if (put(sheet, at, text, size_mm, away_mm, colour)) return true;
  const Vec2 room = room_of(text, size_mm);
  for (double off = away_mm + 2; off <= far_mm; off += 1) {
    for (int k = 0; k < kWays; ++k) {
      const double angle = 2 * kPi * k / kWays;
      const Vec2 way(std::cos(angle), std::sin(angle)), near = at + off * way;
      const Vec2 low = near - room / 2 + (room.array() / 2 * way.array()).matrix();
      const Extent box{low, low + room};
      if (is_taken(box)) continue;
      sheet.line(at, near, {std::nullopt, colour, 0.1});
      set(sheet, box, text, size_mm, colour);
      return true;
    }
  }
  return false;
}

void Labels::put_over(Sheet& sheet, const Vec2& at, const std::string& text, double size_mm,
                      Colour colour) {
  constexpr double kStep = 0.4;
  const Vec2 room = room_of(text, size_mm);
  Extent box{at - Vec2(room.x() / 2, room.y()), at + Vec2(room.x() / 2, 0)};
  while (is_taken(box)) {
    box.low.y() -= kStep;
    box.high.y() -= kStep;
  }
  set(sheet, box, text, size_mm, colour);
}

void Labels::block_line(const Vec2& a, const Vec2& b, double half_width_mm) {
  const Vec2 off(half_width_mm, half_width_mm);
  const int steps = std::max(1, static_cast<int>(std::ceil((b - a).norm())));
  for (int k = 0; k <= steps; ++k) {
    const Vec2 p = a + (b - a) * k / steps;
    block(p - off, p + off);
  }
}

}  // namespace skewback::deliver
