#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

#include "deliver/gentler.hpp"
#include "deliver/text.hpp"

namespace skewback::deliver {
namespace {

constexpr double kMargin = 8, kHead = 24, kFoot = 26, kAxis = 17;
constexpr Colour kMet{229, 241, 233}, kRule{205, 205, 205}, kLimit{0, 110, 70};
constexpr std::array kKinds{DeckKind::kBack, DeckKind::kFrames, DeckKind::kRamps};

Colour colour_of(DeckKind kind) {
  return arm_colour(kind == DeckKind::kBack ? 4 : kind == DeckKind::kFrames ? 0 : 2);
}

using Value = std::function<std::optional<double>(const GentlerRow&)>;

struct Panel {
  Vec2 low, size;  // of the frame on the sheet: left, foot; width, height
  double x_most = 1, y_least = 0, y_most = 1;
  [[nodiscard]] Vec2 operator()(double x, double y) const {
    return {low.x() + size.x() * x / x_most,
            low.y() - size.y() * (y - y_least) / (y_most - y_least)};
  }
};

/// At most six steps of 1, 2 or 5 times a power of ten from 0 past `most`.
double step_for(double most) {
  const double base = std::pow(10.0, std::floor(std::log10(std::max(most, 1e-9) / 6)));
  for (const double lead : {1.0, 2.0, 5.0, 10.0})
    if (most / (lead * base) <= 6) return lead * base;
  return 10 * base;
}

int decimals_for(double step) { return step >= 1 ? 0 : step >= 0.1 ? 1 : 2; }

void mark(Sheet& sheet, const Vec2& at, const GentlerRow& row) {
  const bool good = row.holds && row.gradient_met && row.step_free;
  const Colour c = colour_of(row.kind);
  const Pen pen{good ? c : Colour{255, 255, 255}, c, 0.45};
  constexpr double r = 1.5;
  if (row.kind == DeckKind::kBack) sheet.dot(at, r, pen);
  if (row.kind == DeckKind::kFrames)
    sheet.path({at + Vec2(-r, -r), at + Vec2(r, -r), at + Vec2(r, r), at + Vec2(-r, r)}, true, pen);
  if (row.kind == DeckKind::kRamps)
    sheet.path({at + Vec2(0, -1.3 * r), at + Vec2(1.2 * r, r), at + Vec2(-1.2 * r, r)}, true, pen);
  if (row.holds) return;
  const Pen cross{std::nullopt, kThrust, 0.4};
  sheet.line(at + Vec2(-2.3, -2.3), at + Vec2(2.3, 2.3), cross);
  sheet.line(at + Vec2(-2.3, 2.3), at + Vec2(2.3, -2.3), cross);
}

void add_axes(Sheet& sheet, const GentlerStudy& study, Panel& panel, const std::string& y_name) {
  const double x_step = step_for(100 * panel.x_most),
               y_step = step_for(panel.y_most - panel.y_least);
  panel.x_most = x_step * std::ceil(100 * panel.x_most / x_step + 0.2) / 100;
  panel.y_least = y_step * std::floor(panel.y_least / y_step);
  panel.y_most = y_step * std::ceil(panel.y_most / y_step + 0.1);
  const double zero = panel.y_least;
  const Vec2 limit = panel(study.gradient_limit, panel.y_most),
             foot = panel(study.gradient_limit, zero);
  sheet.path({panel(0, panel.y_least), panel(0, panel.y_most), limit, foot}, true,
             {kMet, std::nullopt});
  for (double y = zero; y <= panel.y_most * (1 + 1e-9); y += y_step) {
    sheet.line(panel(0, y), panel(panel.x_most, y), {std::nullopt, kRule, 0.12});
    sheet.words(panel(0, y) + Vec2(-1.5, 0.9), fixed(y, decimals_for(y_step)), 2.4, Anchor::kEnd);
  }
  for (double x = 0; x <= 100 * panel.x_most * (1 + 1e-9); x += x_step) {
    sheet.line(panel(x / 100, zero), panel(x / 100, zero) + Vec2(0, 1.2),
               {std::nullopt, kBlack, 0.2});
    sheet.words(panel(x / 100, zero) + Vec2(0, 4.2), fixed(x, decimals_for(x_step)), 2.4,
                Anchor::kMiddle);
  }
  sheet.line(panel(0, zero), panel(panel.x_most, zero), {std::nullopt, kBlack, 0.3});
  sheet.line(panel(0, zero), panel(0, panel.y_most), {std::nullopt, kBlack, 0.3});
  sheet.line(foot, limit, {std::nullopt, kLimit, 0.35, 1.4});
  const double run = 1 / study.gradient_limit;
  sheet.items.emplace_back(Words{limit + Vec2(1, 3),
                                 "1:" + fixed(run, std::abs(run - std::round(run)) < 0.05 ? 0 : 1),
                                 2.4,
                                 Anchor::kStart,
                                 false,
                                 {0, 110, 70},
                                 true});
  sheet.words({panel.low.x() + panel.size.x() / 2, panel.low.y() + 8.6},
              "steepest gradient of the deck over the blocks, %", 2.6, Anchor::kMiddle);
  sheet.items.emplace_back(Words{{panel.low.x() - 1, panel.low.y() - panel.size.y() - 2.5},
                                 y_name,
                                 2.6,
                                 Anchor::kStart,
                                 true,
                                 kBlack,
                                 false});
}

/// Rises beside the marks, of each kind on a side of its own: marks may lie close.
void add_points(Sheet& sheet, const GentlerStudy& study, const Panel& panel, const Value& value) {
  for (const DeckKind kind : kKinds) {
    std::vector<Vec2> line;
    for (const GentlerRow& row : study.rows)
      if (row.kind == kind && row.failed.empty() && value(row))
        line.push_back(panel(row.gradient, *value(row)));
    if (line.size() > 1) sheet.path(line, false, {std::nullopt, colour_of(kind), 0.3});
  }
  for (const GentlerRow& row : study.rows) {
    if (!row.failed.empty() || !value(row)) continue;
    const Vec2 at = panel(row.gradient, *value(row));
    mark(sheet, at, row);
    const bool left = row.kind == DeckKind::kRamps, above = row.kind == DeckKind::kFrames;
    Words name{at + (left ? Vec2(-2.6, 0.8) : Vec2(0, above ? -2.6 : 4.2)), fixed(row.rise_m, 2),
               2.1, left ? Anchor::kEnd : Anchor::kMiddle};
    name.colour = colour_of(row.kind);
    name.halo = true;
    sheet.items.emplace_back(std::move(name));
  }
}

void add_panel(Sheet& sheet, const GentlerStudy& study, const Vec2& low, const Vec2& size,
               const std::string& y_name, const Value& value) {
  Panel panel{low, size, study.gradient_limit, 1e300, 0};
  for (const GentlerRow& row : study.rows) {
    if (!row.failed.empty() || !value(row)) continue;
    panel.x_most = std::max(panel.x_most, row.gradient);
    panel.y_most = std::max(panel.y_most, *value(row));
    panel.y_least = std::min(panel.y_least, *value(row));
  }
  if (panel.y_most <= 0) return;
  // what differs little is drawn large, and said so
  const bool cut = panel.y_least > 0.5 * panel.y_most;
  panel.y_least = cut ? panel.y_least - 0.2 * (panel.y_most - panel.y_least) : 0;
  add_axes(sheet, study, panel, y_name + (cut ? "; the axis does not begin at 0" : ""));
  add_points(sheet, study, panel, value);
}

void add_legend(Sheet& sheet, const GentlerStudy& study, double y) {
  static constexpr std::array<const char*, 3> kNames{"on the back of the arch",
                                                     "on frames, at most three steps at each end",
                                                     "on frames, ramps beyond the springings"};
  double x = kMargin + 2;
  for (std::size_t k = 0; k < kKinds.size(); ++k) {
    GentlerRow row;
    row.kind = kKinds[k];
    row.holds = row.gradient_met = row.step_free = true;
    mark(sheet, {x, y - 0.9}, row);
    sheet.words({x + 3.5, y}, kNames[k], 2.5);
    x += 14 + 1.42 * static_cast<double>(std::string(kNames[k]).size());
  }
  std::size_t failed = 0;
  for (const GentlerRow& row : study.rows) failed += row.failed.empty() ? 0 : 1;
  sheet.words(
      {kMargin, y + 4.2},
      "Beside each mark: rise in m. Filled: gradient met without steps, and it holds. Open: "
      "too steep or steps. Crossed: does not hold. " +
          (failed > 0 ? counted(failed, "variant") + " without a structure left out."
                      : std::string()),
      2.4);
}

}  // namespace

Sheet gentler_sheet(const GentlerStudy& study, const SheetSize& size) {
  Sheet sheet{size.width_mm, size.height_mm, study.title + ": the price of a gentler deck", {}};
  sheet.items.emplace_back(
      Words{{kMargin, kMargin + 4}, sheet.title, 4.2, Anchor::kStart, true, kBlack, false});
  sheet.words({kMargin, kMargin + 8.5},
              "Each mark is a whole design: form, blocks, proofs of all cases, ties. Green: the "
              "gradient asked for.",
              2.4);
  const double width = (size.width_mm - 2 * kMargin - 2 * kAxis - 8) / 2,
               height = size.height_mm - kHead - kFoot;
  const double foot = kHead + height;
  add_panel(sheet, study, {kMargin + kAxis, foot}, {width, height},
            "thrust of the form on its hardest pushed support, dead load, kN",
            [](const GentlerRow& r) { return std::optional(r.thrust_n / 1000); });
  const bool priced =
      std::ranges::any_of(study.rows, [](const GentlerRow& r) { return r.money.has_value(); });
  const Value second =
      priced ? Value([](const GentlerRow& r) { return r.money; })
             : Value([](const GentlerRow& r) { return std::optional(r.carbon_kg / 1000); });
  add_panel(sheet, study, {kMargin + 2 * kAxis + width + 8, foot}, {width, height},
            priced ? "concrete, ties, pads, walkway, " + study.currency
                   : "carbon of concrete, ties, pads, walkway, t CO2e",
            second);
  add_legend(sheet, study, size.height_mm - kFoot + 17);
  return sheet;
}

}  // namespace skewback::deliver
