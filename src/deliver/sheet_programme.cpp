#include <algorithm>
#include <array>
#include <cmath>

#include "deliver/programme_sheets.hpp"
#include "deliver/text.hpp"
#include "erect/dates.hpp"

namespace skewback::deliver {
namespace {

constexpr double kDay = 86400, kMargin = 8, kHead = 20, kNames = 40;
constexpr Colour kCalm{150, 178, 200}, kPressing{192, 72, 20}, kBand{246, 246, 243},
    kIdle{228, 228, 224};
constexpr double kOften = 0.5;  // critical in more than this share of the draws: dark

struct Kind {
  const char *kind, *words;
};
constexpr std::array kKinds{Kind{"footings", "footings"},    Kind{"cutting", "centring cut"},
                            Kind{"centring", "centring up"}, Kind{"print", "printing"},
                            Kind{"cast", "casting"},         Kind{"cure", "curing"},
                            Kind{"journey", "journeys"},     Kind{"place", "placing"},
                            Kind{"striking", "striking"},    Kind{"walkway", "walkway"}};

std::vector<std::size_t> of_kind(const Network& network, const char* kind) {
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < network.activities.size(); ++i) {
    if (network.activities[i].kind == kind) found.push_back(i);
  }
  return found;
}

double height_of(std::size_t count) {
  return std::clamp(0.55 * static_cast<double>(count), 4.0, 26.0);
}

struct Bars {
  const Spares& spares;
  std::vector<double> finish_s;
  Chart chart;  // x in days
};

void add_bars(Sheet& sheet, const Bars& bars, const std::vector<std::size_t>& rows, double top,
              double height) {
  const double lane = height / static_cast<double>(rows.size());
  for (std::size_t k = 0; k < rows.size(); ++k) {
    const std::size_t i = rows[k];
    const Network& network = bars.spares.network;
    const double to = bars.finish_s[i] / kDay;
    const double from =
        begun_at(network, network.activities[i], bars.finish_s[i], bars.spares.plan.mean_s[i]) /
        kDay;
    const double y = top + lane * static_cast<double>(k);
    const Vec2 a(bars.chart(from, 0).x(), y + 0.08 * lane);
    const Vec2 b(std::max(bars.chart(to, 0).x(), a.x() + 0.35), y + 0.92 * lane);
    const bool presses = bars.spares.with.critical_share[i] > kOften;
    sheet.path({a, {b.x(), a.y()}, b, {a.x(), b.y()}}, true,
               {presses ? kPressing : kCalm, std::nullopt});
  }
}

/// A line every week, named every so many that the dates do not touch.
void add_weeks(Sheet& sheet, const Chart& chart, const std::string& start, double bottom) {
  const double week_mm = chart(7, 0).x() - chart(0, 0).x();
  const int every = std::max(1, static_cast<int>(std::ceil(15 / week_mm)));
  for (int week = 0; 7 * week <= chart.x_high; ++week) {
    const double x = chart(7.0 * week, 0).x();
    const bool named = week % every == 0;
    sheet.line({x, chart.at.y() - (named ? 1.5 : 0)}, {x, bottom},
               {std::nullopt, Colour{205, 205, 205}, named ? 0.18 : 0.09});
    if (!named) continue;
    sheet.words({x, chart.at.y() - 4.6}, date_after(start, week * 7 * kDay).substr(5), 2.1,
                Anchor::kMiddle);
    sheet.words({x, chart.at.y() - 2.2}, "week " + std::to_string(week + 1), 1.7, Anchor::kMiddle);
  }
}

void add_idle_days(Sheet& sheet, const Chart& chart, const Calendar& calendar, double bottom) {
  for (int day = 0; day < chart.x_high; ++day) {
    if (calendar.worked(day)) continue;
    const Vec2 a(chart(day, 0).x(), chart.at.y()), b(chart(day + 1, 0).x(), bottom);
    sheet.path({a, {b.x(), a.y()}, b, {a.x(), b.y()}}, true, {kIdle, std::nullopt});
  }
}

void add_chances(Sheet& sheet, const Bars& bars, double bottom) {
  const Draws& with = bars.spares.with;
  double lowest = bottom;
  for (const auto& [share, words] :
       {std::pair{0.1, "one in ten"}, std::pair{0.5, "half"}, std::pair{0.9, "nine in ten"}}) {
    const double s = with.at(share), x = bars.chart(s / kDay, 0).x();
    lowest += 3.4;
    sheet.line({x, bars.chart.at.y()}, {x, lowest - 1}, {std::nullopt, kBlack, 0.25, 0.9});
    Words name{{x - 1, lowest},
               std::string(words) + " done by " + done_date(bars.spares.network, s),
               2.2,
               Anchor::kEnd};
    name.halo = true;
    sheet.items.emplace_back(std::move(name));
  }
}

}  // namespace

std::string kind_words(const std::string& kind) {
  const auto known = std::ranges::find_if(kKinds, [&](const Kind& k) { return kind == k.kind; });
  return known == kKinds.end() ? kind : known->words;
}

Sheet programme_sheet(const Spares& spares, double width_mm) {
  const Network& network = spares.network;
  Sheet sheet{width_mm, 0, "Programme", {}};
  sheet.items.emplace_back(
      Words{{kMargin, kMargin + 3}, sheet.title, 4.0, Anchor::kStart, true, kBlack, false});
  sheet.words({kMargin, kMargin + 7.5},
              std::string("A line an activity, by mean times. Dark: critical in more than half of "
                          "the draws with the chosen spares.") +
                  (network.calendar.every_day() ? "" : " Grey days are not worked."),
              2.4);
  Bars bars{spares, finishes(network, spares.plan.mean_s), {}};
  const double days = std::max(spares.plan.duration_s, spares.with.at(0.9)) / kDay;
  bars.chart = {{kMargin + kNames, kMargin + kHead},
                {width_mm - 2 * kMargin - kNames, 0},
                0,
                7 * std::ceil(days / 7 + 0.05),
                1};
  double y = bars.chart.at.y();
  std::vector<std::pair<std::vector<std::size_t>, double>> rows;
  std::vector<const char*> names;
  for (const Kind& kind : kKinds) {
    std::vector<std::size_t> found = of_kind(network, kind.kind);
    if (found.empty()) continue;
    const double height = height_of(found.size());
    const double left = kMargin, right = width_mm - kMargin;
    if (rows.size() % 2 == 0)
      sheet.path({{left, y}, {right, y}, {right, y + height + 2}, {left, y + height + 2}}, true,
                 {kBand, std::nullopt});
    rows.emplace_back(std::move(found), y + 1);
    names.push_back(kind.words);
    y += height + 2;
  }
  add_idle_days(sheet, bars.chart, network.calendar, y);
  add_weeks(sheet, bars.chart, network.start, y);
  for (std::size_t r = 0; r < rows.size(); ++r) {
    const auto& [found, top] = rows[r];
    const double height = height_of(found.size());
    add_bars(sheet, bars, found, top, height);
    const std::string many = found.size() > 1 ? " (" + std::to_string(found.size()) + ")" : "";
    sheet.words({kMargin + 1.5, top + height / 2 + 0.9}, names[r] + many, 2.5);
  }
  add_chances(sheet, bars, y);
  sheet.height_mm = y + 3 * 3.4 + 5;
  return sheet;
}

}  // namespace skewback::deliver
