#include <algorithm>
#include <cmath>
#include <utility>

#include "base/constants.hpp"
#include "deliver/programme_sheets.hpp"
#include "deliver/text.hpp"
#include "deliver/tolerance_sheets.hpp"

namespace skewback::deliver {
namespace {

constexpr double kMargin = 8, kLeft = 10, kTop = 24, kHigh = 40, kGap = 16, kFoot = 13;
constexpr Colour kOurs{0, 90, 160}, kArea{150, 190, 225}, kGone{200, 110, 0};

void add_head(Sheet& sheet, const std::string& under) {
  sheet.items.emplace_back(
      Words{{kMargin, kMargin + 3}, sheet.title, 4.0, Anchor::kStart, true, kBlack, false});
  sheet.words({kMargin, kMargin + 7.5}, under, 2.4);
}

double at_share(std::vector<double> values, double share) {
  if (values.empty()) return 0;
  const auto k = static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
  std::ranges::nth_element(values, values.begin() + k);
  return values[static_cast<std::size_t>(k)];
}

void add_x_axis(Sheet& sheet, const Chart& chart, const std::string& words) {
  const RoundAxis axis = round_axis(chart.x_high - chart.x_low, 6);
  for (double k = std::ceil(chart.x_low / axis.step - 1e-9);
       k * axis.step <= chart.x_high + 1e-9 * axis.step; ++k) {
    const Vec2 p = chart(k * axis.step, 0);
    sheet.line(p, p + Vec2(0, 1), {std::nullopt, kBlack, 0.2});
    sheet.words(p + Vec2(0, 3.8), fixed(k * axis.step + 0.0, axis.decimals), 2.1, Anchor::kMiddle);
  }
  sheet.words(chart.at + Vec2(chart.size.x() / 2, chart.size.y() + 7.6), words, 2.3,
              Anchor::kMiddle);
}

struct Panel {
  std::string words;  // under it
  std::vector<double> values;
  std::optional<double> limit;
  std::string limit_words;
  int decimals = 1;
};

void add_limit(Sheet& sheet, const Chart& chart, const Panel& panel) {
  if (!panel.limit || *panel.limit < chart.x_low || *panel.limit > chart.x_high) return;
  sheet.line(chart(*panel.limit, 0), chart(*panel.limit, chart.y_high),
             {std::nullopt, kThrust, 0.3, 1});
  const bool late = *panel.limit > (chart.x_low + chart.x_high) / 2;
  Words name{chart(*panel.limit, chart.y_high) + Vec2(late ? -1 : 1, 3.5), panel.limit_words, 2.1,
             late ? Anchor::kEnd : Anchor::kStart};
  name.halo = true;
  sheet.items.emplace_back(std::move(name));
}

void add_panel(Sheet& sheet, const Vec2& at, double wide, const Panel& panel) {
  const Histogram bars = histogram(panel.values, 40);
  double most = 0;
  for (const double s : bars.share) most = std::max(most, 100 * s);
  const RoundAxis axis = round_axis(most, 4);
  const Chart chart{at, {wide, kHigh}, bars.low, bars.high(), axis.top};
  add_y_axis(sheet, chart, axis,
             "% of draws; half within " + fixed(at_share(panel.values, 0.25), panel.decimals) +
                 " to " + fixed(at_share(panel.values, 0.75), panel.decimals));
  std::vector<Vec2> line{chart(chart.x_low, 0)};
  for (std::size_t k = 0; k < bars.share.size(); ++k) {
    const double x = bars.low + bars.step * static_cast<double>(k);
    line.push_back(chart(x, 100 * bars.share[k]));
    line.push_back(chart(x + bars.step, 100 * bars.share[k]));
  }
  line.push_back(chart(chart.x_high, 0));
  sheet.path(line, true, {kArea, kOurs, 0.25});
  add_limit(sheet, chart, panel);
  add_x_axis(sheet, chart, panel.words);
}

std::vector<double> in_mm(std::vector<double> values) {
  for (double& v : values) v *= 1000;
  return values;
}

std::vector<Panel> panels(const Brief& brief, const ToleranceReport& report) {
  std::vector<Panel> out;
  out.push_back({"worst gap at the key, no packers (mm; below 0: too tight)",
                 in_mm(report.key_gap_m), -1000 * brief.packing.squeeze_m, "too tight left of it"});
  out.push_back({"thickest packers in one place (mm)", in_mm(report.thickest_m),
                 1000 * brief.packing.most_m, "most"});
  out.push_back({"packers, all packed joints together (mm)", in_mm(report.packers_m), {}, ""});
  if (!report.load_factor.empty())
    out.push_back({"load factor, packed", report.load_factor, {}, "", 2});
  return out;
}

/// A panel of bars over the same rows; two bars a trade.
struct Bars {
  std::string title, first, second;  // what the bars are
  Colour first_colour, second_colour;
  double (*value)(const TightenedTrade&, int);
  double now = 0;
  bool has_now = false;
  int decimals = 1;
  double x_mm = 0, wide_mm = 0, most = 0;  // filled by placed()
  [[nodiscard]] double x(double v) const { return x_mm + wide_mm * v / most; }
};

std::vector<Bars> all_bars(const ToleranceReport& report) {
  return {
      {"key goes in without packers (%)", "halved", "gone", kOurs, kGone,
       [](const TightenedTrade& t, int k) {
         return 100 * (k == 0 ? t.halved.share : t.gone.share);
       },
       100 * report.on_trade_draws.share, true, 1},
      {"packers of a draw, mean (mm)", "halved", "gone", kOurs, kGone,
       [](const TightenedTrade& t, int k) {
         return 1000 * (k == 0 ? t.packers_halved_m : t.packers_gone_m);
       },
       1000 * report.packers_mean_m, true, 2},
      {"the key off by it alone (mm)", "gap", "step", kGrey, kArea,
       [](const TightenedTrade& t, int k) { return 1000 * (k == 0 ? t.alone_m : t.step_alone_m); },
       0, false, 2}};
}

/// Bars that are all nothing, and nothing now either, are left out.
bool says_something(const ToleranceReport& report, const Bars& bars) {
  return bars.now > 0 || std::ranges::any_of(report.trades, [&](const TightenedTrade& t) {
           return bars.value(t, 0) > 0 || bars.value(t, 1) > 0;
         });
}

std::vector<Bars> placed(const ToleranceReport& report, double left, double width) {
  constexpr double kNumber = 11;  // room for it after the longest bar
  std::vector<Bars> all = all_bars(report);
  std::erase_if(all, [&](const Bars& bars) { return !says_something(report, bars); });
  const double each = width / static_cast<double>(all.size());
  for (std::size_t p = 0; p < all.size(); ++p) {
    all[p].x_mm = left + each * static_cast<double>(p);
    all[p].wide_mm = each - kNumber - 3;
    all[p].most = all[p].now;
    for (const TightenedTrade& t : report.trades)
      all[p].most = std::max({all[p].most, all[p].value(t, 0), all[p].value(t, 1)});
    if (!(all[p].most > 0)) all[p].most = 1;
  }
  return all;
}

void add_bars(Sheet& sheet, const Bars& bars, const TightenedTrade& trade, double y) {
  for (const int k : {0, 1}) {
    const double value = bars.value(trade, k), top = y + 0.8 + 3.7 * k;
    sheet.path(
        {{bars.x(0), top}, {bars.x(value), top}, {bars.x(value), top + 3}, {bars.x(0), top + 3}},
        true, {k == 0 ? bars.first_colour : bars.second_colour, std::nullopt, 0});
    Words number{{bars.x(value) + 1, top + 2.3}, fixed(value, bars.decimals), 2.0};
    number.halo = true;
    sheet.items.emplace_back(std::move(number));
  }
}

void add_bars_head(Sheet& sheet, const Bars& bars, double top, double bottom) {
  sheet.words({bars.x_mm, top - 7}, bars.title, 2.2);
  const auto swatch = [&](double x, Colour colour, const std::string& words) {
    const double y = top - 2;
    sheet.path({{x, y - 2}, {x + 3, y - 2}, {x + 3, y}, {x, y}}, true, {colour, std::nullopt, 0});
    sheet.words({x + 4, y}, words, 2.1);
  };
  swatch(bars.x_mm, bars.first_colour, bars.first);
  swatch(bars.x_mm + 14, bars.second_colour, bars.second);
  if (!bars.has_now) return;
  const Pen pen{std::nullopt, kBlack, 0.25, 0.8};
  sheet.line({bars.x_mm + 27, top - 3}, {bars.x_mm + 30, top - 3}, pen);
  sheet.words({bars.x_mm + 31, top - 2}, "now " + fixed(bars.now, bars.decimals), 2.1);
  sheet.line({bars.x(bars.now), top}, {bars.x(bars.now), bottom}, pen);
}

}  // namespace

Histogram histogram(const std::vector<double>& values, int steps_at_most) {
  if (values.empty()) return {};
  constexpr double kAlike = 1e-6;  // relative: less apart is one value
  const auto [least, most] = std::ranges::minmax(values);
  const double size = std::max(std::abs(least), std::abs(most));
  Histogram out;
  out.step = round_axis(most - least < kAlike * size ? size : most - least, steps_at_most).step;
  out.low = std::floor(least / out.step) * out.step;
  out.share.resize(static_cast<std::size_t>(std::floor((most - out.low) / out.step)) + 1, 0.0);
  for (const double v : values) {
    const auto k = static_cast<std::size_t>(std::max(0.0, (v - out.low) / out.step));
    out.share[std::min(k, out.share.size() - 1)] += 1.0 / static_cast<double>(values.size());
  }
  return out;
}

std::string trade_words(const std::string& error) {
  static const std::vector<std::pair<std::string, std::string>> words{
      {"footing_plan", "footings in plan"}, {"footing_level", "footings in level"},
      {"footing_turn", "footings turned"},  {"footing_tilt", "footings tilted"},
      {"centring", "centring, feet"},       {"block_length", "length of blocks"},
      {"bed_tilt", "beds out of angle"},    {"bed_flatness", "beds out of flat"},
      {"pad", "thickness of pads"}};
  for (const auto& [name, said] : words) {
    if (name == error) return said;
  }
  return error;
}

std::string figure_words(const std::string& error, double figure) {
  if (error == "pad") return fixed(100 * figure, 2) + " %";
  if (error == "footing_turn" || error == "footing_tilt" || error == "bed_tilt")
    return fixed(figure * 180 / kPi, 3) + " degrees";
  return fixed(1000 * figure, 2) + " mm";
}

Sheet tolerance_draws_sheet(const Brief& brief, const ToleranceReport& report, double width_mm) {
  const std::vector<Panel> all = panels(brief, report);
  const std::size_t rows = (all.size() + 1) / 2;
  const double row = kHigh + kFoot + 8;
  Sheet sheet{
      width_mm, kTop + row * static_cast<double>(rows), "What errors within tolerance do", {}};
  add_head(sheet, "Share of " + std::to_string(report.draws) + " draws of all errors together.");
  const double wide = (width_mm - 2 * kMargin - 2 * kLeft - kGap + kLeft) / 2;
  for (std::size_t k = 0; k < all.size(); ++k) {
    const Vec2 at(kMargin + kLeft + (k % 2 == 1 ? wide + kGap : 0),
                  kTop + row * static_cast<double>(k / 2));
    add_panel(sheet, at, wide, all[k]);
  }
  return sheet;
}

Sheet trades_sheet(const ToleranceReport& report, double width_mm) {
  constexpr double kRow = 9, kNames = 26, kFirst = kTop + 6;
  Sheet sheet{width_mm,
              kFirst + kRow * static_cast<double>(report.trades.size()) + 6,
              "What tightening a trade brings",
              {}};
  add_head(sheet, "One error halved or gone, all others as they are; the same " +
                      std::to_string(report.trade_draws) + " draws each time, for packers " +
                      std::to_string(report.packed_draws) + ".");
  for (std::size_t k = 0; k < report.trades.size(); ++k) {
    const double y = kFirst + kRow * static_cast<double>(k);
    sheet.words({kMargin, y + 4}, trade_words(report.trades[k].error), 2.4);
    sheet.words({kMargin, y + 7.2}, figure_words(report.trades[k].error, report.trades[k].now),
                2.0);
  }
  for (const Bars& bars : placed(report, kMargin + kNames, width_mm - 2 * kMargin - kNames)) {
    add_bars_head(sheet, bars, kFirst, sheet.height_mm - 6);
    for (std::size_t k = 0; k < report.trades.size(); ++k)
      add_bars(sheet, bars, report.trades[k], kFirst + kRow * static_cast<double>(k));
  }
  return sheet;
}

}  // namespace skewback::deliver
