#include <algorithm>
#include <cmath>

#include "centring/nested.hpp"
#include "deliver/centring_sheets.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kGap = 6, kWords = 4, kLine = 0.2;
constexpr Colour kRib{226, 188, 140}, kCross{244, 222, 178}, kOther{214, 226, 204};

Colour colour_of(const SheetPart& part) {
  if (part.kind == "rib") return kRib;
  return part.kind == "cross rib" ? kCross : kOther;
}

}  // namespace

Sheet cut_overview_sheet(const Brief& brief, const Centring& centring, double width_mm) {
  const double length = brief.centring.sheet_length_m, width = brief.centring.sheet_width_m;
  const std::size_t n = centring.sheets.size(), in_row = n < 3 ? 2 : n < 10 ? 3 : 4;
  const double cell =
      (width_mm - 2 * kLine - kGap * static_cast<double>(in_row - 1)) / static_cast<double>(in_row);
  const double high = cell * width / length;
  const std::size_t rows = (n + in_row - 1) / in_row;
  Sheet sheet{width_mm, static_cast<double>(rows) * (high + kGap + kWords), "Sheets to cut", {}};
  for (std::size_t s = 0; s < n; ++s) {
    const CutSheet& cut = centring.sheets[s];
    const Vec2 low(kLine + static_cast<double>(s % in_row) * (cell + kGap),
                   static_cast<double>(s / in_row) * (high + kGap + kWords) + kWords);
    const SheetMap map{cell / length, low + Vec2(0, high)};
    sheet.words(low - Vec2(0, 1), cut.id + ", used " + fixed(100 * cut.used_share, 0) + " %", 2.2);
    sheet.path({low, low + Vec2(cell, 0), low + Vec2(cell, high), low + Vec2(0, high)}, true,
               {Colour{255, 255, 255}, kGrey, kLine});
    for (const NestedPart& nested : cut.parts) {
      const SheetPart& part = centring.parts[static_cast<std::size_t>(nested.part)];
      const Region lies = on_sheet(nested, part.outline);
      sheet.regions(map(Regions{lies}), {colour_of(part), kBlack, 0.08});
      const Vec2 middle = centroid(lies);
      if (!contains(lies, middle)) continue;
      sheet.words(map(middle) + Vec2(0, 0.5), part.id, 1.4, Anchor::kMiddle);
    }
  }
  return sheet;
}

}  // namespace skewback::deliver
