#include <algorithm>
#include <cmath>

#include "deliver/report_access.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kMargin = 4, kHead = 13, kName = 5, kGap = 5;
constexpr Colour kBackLine{120, 116, 108}, kFrame{150, 110, 60};
constexpr double kSpan = 0.6;  // m over which a gradient is written

Colour steepness(const Brief& brief, double gradient) {
  if (gradient <= brief.access.ramp_from + 1e-6) return {0, 130, 90};
  return gradient <= brief.access.gradient_max + 1e-6 ? Colour{210, 140, 0} : kThrust;
}

double height_at(const WalkLine& line, double along_m) {
  const auto next = std::ranges::find_if(
      line.stations, [&](const WalkStation& s) { return s.along_m >= along_m; });
  if (next == line.stations.begin()) return next->point.z();
  if (next == line.stations.end()) return line.stations.back().point.z();
  const WalkStation &a = *(next - 1), &b = *next;
  const double t = (along_m - a.along_m) / (b.along_m - a.along_m);
  return a.point.z() + t * (b.point.z() - a.point.z());
}

double gradient_about(const WalkLine& line, double along_m) {
  const double from = std::clamp(along_m - kSpan / 2, 0.0, std::max(0.0, line.length_m - kSpan));
  const double over = std::min(kSpan, line.length_m);
  return over > 0 ? std::abs(height_at(line, from + over) - height_at(line, from)) / over : 0;
}

void add_leg(Sheet& sheet, const Brief& brief, const AccessReport& access, const WalkLine& line,
             const SheetMap& map) {
  std::vector<Vec2> back;
  for (const WalkStation& s : line.stations) back.push_back(map({s.along_m, s.back_m}));
  sheet.path(back, false, {std::nullopt, kBackLine, 0.25});
  for (const WalkPart& part : access.parts) {
    if (part.kind != PartKind::kFrame || part.line != line.name) continue;
    const Vec2 foot = map({part.from_m, height_at(line, part.from_m)});
    const auto station = std::ranges::min_element(
        line.stations, {}, [&](const WalkStation& s) { return std::abs(s.along_m - part.from_m); });
    sheet.line(foot, map({part.from_m, station->back_m}), {std::nullopt, kFrame, 0.5});
  }
  for (std::size_t i = 0; i + 1 < line.stations.size(); ++i) {
    const WalkStation &a = line.stations[i], &b = line.stations[i + 1];
    const double g = gradient_about(line, (a.along_m + b.along_m) / 2);
    sheet.line(map({a.along_m, a.point.z()}), map({b.along_m, b.point.z()}),
               {std::nullopt, steepness(brief, g), 0.7});
  }
  for (double s = kSpan / 2; s < line.length_m; s += 2 * kSpan) {
    const double g = gradient_about(line, s);
    Words words{map({s, height_at(line, s)}) + Vec2(0, -1.6), fixed(100 * g, 1), 2.1,
                Anchor::kMiddle};
    words.colour = steepness(brief, g);
    words.halo = true;
    sheet.items.emplace_back(std::move(words));
  }
}

}  // namespace

Sheet access_sheet(const Brief& brief, const AccessReport& access, double width_mm) {
  Sheet sheet{width_mm, kHead, "Profile of the walk", {}};
  double longest = 0;
  for (const WalkLine& line : access.lines) longest = std::max(longest, line.length_m);
  Extent whole;
  whole.add({0, 0});
  whole.add({longest, 0.1});
  SheetMap map = fit(whole, {kMargin, 0}, {width_mm - 2 * kMargin, 1e3});
  sheet.items.emplace_back(
      Words{{kMargin, 4.5}, sheet.title, 3.2, Anchor::kStart, true, kBlack, false});
  sheet.words({kMargin, 8.5},
              "Per cent over 0.6 m, support at the left, meeting at the right. Green: no ramp; "
              "amber: a ramp within the limit; red: too steep. Grey: tops of the blocks.",
              2.2);
  double y = kHead;
  for (const WalkLine& line : access.lines) {
    double low = 1e300, high = -1e300;
    for (const WalkStation& s : line.stations) {
      low = std::min({low, s.point.z(), s.back_m});
      high = std::max({high, s.point.z(), s.back_m});
    }
    sheet.items.emplace_back(Words{
        {kMargin, y + 2},
        line.name + ": rise " + fixed(line.rise_m, 2) + " m over " + fixed(line.length_m, 2) + " m",
        2.5,
        Anchor::kStart,
        true,
        kBlack,
        false});
    map.corner = {kMargin, y + kName + 3 + map.mm_per_m * high};
    add_leg(sheet, brief, access, line, map);
    y += kName + 3 + map.mm_per_m * (high - low) + kGap;
  }
  add_scale_bar(sheet, map, {kMargin, y + 1});
  sheet.height_mm = y + 7;
  return sheet;
}

}  // namespace skewback::deliver
