#include <algorithm>
#include <cmath>
#include <utility>

#include "base/constants.hpp"
#include "deliver/programme_sheets.hpp"
#include "deliver/text.hpp"
#include "deliver/tolerance_sheets.hpp"

namespace skewback::deliver {
namespace {

constexpr double kMargin = 8, kLeft = 10, kTop = 20, kHigh = 40, kGap = 16, kFoot = 13;
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

std::string percent(double share) { return fixed(100 * share, 1) + " %"; }

struct Bars {
  Vec2 at = Vec2::Zero();
  double wide = 0, most = 1;
  [[nodiscard]] double x(double value) const { return at.x() + wide * value / most; }
};

void add_bar(Sheet& sheet, const Bars& bars, double y, double value, double high, Colour colour) {
  sheet.path({{bars.x(0), y}, {bars.x(value), y}, {bars.x(value), y + high}, {bars.x(0), y + high}},
             true, {colour, std::nullopt, 0});
}

void add_trade(Sheet& sheet, const TightenedTrade& trade, const Bars& chance, const Bars& alone,
               double y) {
  sheet.words({kMargin, y + 4}, trade_words(trade.error), 2.4);
  sheet.words({kMargin, y + 7.2}, figure_words(trade.error, trade.now), 2.0);
  add_bar(sheet, chance, y + 1, trade.halved.share, 3, kOurs);
  add_bar(sheet, chance, y + 4.5, trade.gone.share, 3, kGone);
  sheet.words({chance.x(trade.halved.share) + 1, y + 3.3}, percent(trade.halved.share), 2.0);
  sheet.words({chance.x(trade.gone.share) + 1, y + 6.8}, percent(trade.gone.share), 2.0);
  add_bar(sheet, alone, y + 2.5, 1000 * trade.alone_m, 3.5, kGrey);
  sheet.words({alone.x(1000 * trade.alone_m) + 1, y + 5}, fixed(1000 * trade.alone_m, 2), 2.0);
}

void add_legend(Sheet& sheet, const Bars& chance, const Bars& alone,
                const ToleranceReport& report) {
  const double y = kTop - 3;
  const auto swatch = [&](double x, Colour colour, const std::string& words) {
    sheet.path({{x, y - 2}, {x + 4, y - 2}, {x + 4, y}, {x, y}}, true, {colour, std::nullopt, 0});
    sheet.words({x + 5, y}, words, 2.2);
  };
  swatch(chance.at.x(), kOurs, "halved");
  swatch(chance.at.x() + 20, kGone, "gone");
  sheet.line({chance.at.x() + 36, y - 1}, {chance.at.x() + 40, y - 1},
             {std::nullopt, kBlack, 0.25, 0.8});
  sheet.words({chance.at.x() + 41, y}, "now " + percent(report.on_trade_draws.share), 2.2);
  swatch(alone.at.x(), kGrey, "gap at the key by it alone (mm)");
}

}  // namespace

Histogram histogram(const std::vector<double>& values, int steps_at_most) {
  if (values.empty()) return {};
  const auto [least, most] = std::ranges::minmax(values);
  Histogram out;
  out.step = round_axis(most - least, steps_at_most).step;
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
  constexpr double kRow = 9, kNames = 30, kNumber = 11;
  Sheet sheet{width_mm,
              kTop + kRow * static_cast<double>(report.trades.size()) + 6,
              "What tightening a trade brings",
              {}};
  add_head(sheet,
           "Chance that the key goes in without packers, one error halved or gone, all "
           "others as they are; " +
               std::to_string(report.trade_draws) + " draws.");
  const double wide = (width_mm - 2 * kMargin - kNames - 2 * kNumber - 4) / 2;
  Bars chance{{kMargin + kNames, kTop}, wide, report.on_trade_draws.share};
  Bars alone{{kMargin + kNames + wide + kNumber + 4, kTop}, wide, 0};
  for (const TightenedTrade& trade : report.trades) {
    chance.most = std::max({chance.most, trade.halved.share, trade.gone.share});
    alone.most = std::max(alone.most, 1000 * trade.alone_m);
  }
  if (!(chance.most > 0)) chance.most = 1;
  if (!(alone.most > 0)) alone.most = 1;
  for (std::size_t k = 0; k < report.trades.size(); ++k)
    add_trade(sheet, report.trades[k], chance, alone, kTop + kRow * static_cast<double>(k));
  const double x = chance.x(report.on_trade_draws.share);
  sheet.line({x, kTop}, {x, sheet.height_mm - 6}, {std::nullopt, kBlack, 0.25, 0.8});
  add_legend(sheet, chance, alone, report);
  return sheet;
}

}  // namespace skewback::deliver
