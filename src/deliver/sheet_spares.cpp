#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "deliver/programme_sheets.hpp"
#include "deliver/text.hpp"
#include "erect/dates.hpp"

namespace skewback::deliver {
namespace {

constexpr double kDay = 86400, kMargin = 8;
constexpr Colour kOurs{0, 90, 160}, kByMass{200, 110, 0}, kRandom{120, 120, 120},
    kTable{150, 30, 60};

void add_head(Sheet& sheet, const std::string& under) {
  sheet.items.emplace_back(
      Words{{kMargin, kMargin + 3}, sheet.title, 4.0, Anchor::kStart, true, kBlack, false});
  sheet.words({kMargin, kMargin + 7.5}, under, 2.4);
}

void add_x_axis(Sheet& sheet, const Chart& chart, const RoundAxis& axis, const std::string& words) {
  for (double x = 0; x <= chart.x_high + 1e-9; x += axis.step) {
    const Vec2 p = chart(x, 0);
    sheet.line(p, p + Vec2(0, 1), {std::nullopt, kBlack, 0.2});
    sheet.words(p + Vec2(0, 3.8), fixed(x, axis.decimals), 2.1, Anchor::kMiddle);
  }
  sheet.words(chart.at + Vec2(chart.size.x() / 2, chart.size.y() + 7.6), words, 2.3,
              Anchor::kMiddle);
}

template <class Value>
void add_curve(Sheet& sheet, const Chart& chart, const std::vector<SparesTrial>& trials,
               Value value, const Pen& pen) {
  std::vector<Vec2> line;
  for (const SparesTrial& trial : trials) line.push_back(chart(trial.spares, value(trial)));
  sheet.path(line, false, pen);
}

void add_key(Sheet& sheet, const Vec2& at, const std::string& words, const Pen& pen) {
  sheet.line(at, at + Vec2(7, 0), pen);
  Words name{at + Vec2(8.5, 0.8), words, 2.2};
  name.halo = true;
  sheet.items.emplace_back(std::move(name));
}

constexpr double kKeyTop = 19.5, kKeyStep = 4;  // over the curves, where it hides none

void add_chosen(Sheet& sheet, const Chart& chart, int chosen) {
  sheet.line(chart(chosen, 0), chart(chosen, chart.y_high), {std::nullopt, kBlack, 0.2, 0.8});
  const bool late = chosen > 0.7 * chart.x_high;
  Words name{chart(chosen, chart.y_high) + Vec2(late ? -1 : 1, 4),
             "chosen: " + std::to_string(chosen), 2.2, late ? Anchor::kEnd : Anchor::kStart};
  name.halo = true;
  sheet.items.emplace_back(std::move(name));
}

double with_table_s(const SparesTrial& trial) { return trial.expected_delay_s + trial.table_s; }

/// Scale of the delays: the table's time may run out of the top.
RoundAxis delay_axis(const std::vector<SparesTrial>& trials) {
  double most = 0;
  for (const SparesTrial& t : trials)
    most = std::max({most, t.expected_delay_s, t.by_mass_s, t.at_random_s,
                     std::min(with_table_s(t), 1.5 * trials[0].expected_delay_s)});
  return round_axis(most / kDay, 6);
}

struct Line {
  const char* words;
  Pen pen;
  double (*value_s)(const SparesTrial&);
};
constexpr double kThin = 0.25;
const std::array<Line, 4> kLines{
    Line{"as here",
         {std::nullopt, kOurs, 0.7},
         [](const SparesTrial& t) { return t.expected_delay_s; }},
    Line{"the heaviest first",
         {std::nullopt, kByMass, 0.4, 1.6},
         [](const SparesTrial& t) { return t.by_mass_s; }},
    Line{"at random (mean)",
         {std::nullopt, kRandom, 0.4, 0.7},
         [](const SparesTrial& t) { return t.at_random_s; }},
    Line{"as here, and the table's time", {std::nullopt, kTable, kThin}, with_table_s}};

void add_delays(Sheet& sheet, const Chart& box, const Spares& spares) {
  const RoundAxis axis = delay_axis(spares.trials);
  Chart chart = box;
  chart.y_high = axis.top;
  add_y_axis(sheet, chart, axis, "expected delay by breakages (days)");
  add_x_axis(sheet, chart, round_axis(chart.x_high, 6), "blocks made twice");
  add_chosen(sheet, chart, spares.chosen);
  Vec2 key(chart.at.x(), kKeyTop);
  for (const Line& line : kLines) {
    std::vector<SparesTrial> shown;  // as far as the box goes
    for (const SparesTrial& t : spares.trials) {
      if (line.value_s(t) / kDay > chart.y_high) break;
      shown.push_back(t);
    }
    add_curve(
        sheet, chart, shown, [&](const SparesTrial& t) { return line.value_s(t) / kDay; },
        line.pen);
    add_key(sheet, key, line.words, line.pen);
    key.y() += kKeyStep;
  }
}

void add_lateness(Sheet& sheet, const Chart& box, const Spares& spares, double late_risk) {
  double most = late_risk;
  for (const SparesTrial& t : spares.trials) most = std::max(most, t.late_share);
  const RoundAxis axis = round_axis(100 * most, 6);
  Chart chart = box;
  chart.y_high = axis.top;
  add_y_axis(sheet, chart, axis, "risk of waiting for a broken block (%)");
  add_x_axis(sheet, chart, round_axis(chart.x_high, 6), "blocks made twice");
  add_chosen(sheet, chart, spares.chosen);
  const Pen limit{std::nullopt, kThrust, 0.3, 1};
  sheet.line(chart(0, 100 * late_risk), chart(chart.x_high, 100 * late_risk), limit);
  const Pen ours{std::nullopt, kOurs, 0.6};
  add_curve(
      sheet, chart, spares.trials, [](const SparesTrial& t) { return 100 * t.late_share; }, ours);
  const Vec2 key(chart.at.x(), kKeyTop);
  add_key(sheet, key, "as here", ours);
  add_key(sheet, key + Vec2(0, kKeyStep), "allowed: " + fixed(100 * late_risk, 1) + " %", limit);
}

/// Share of the draws that are done in each step of days.
std::vector<double> shares(const Draws& draws, double from_days, double step_days,
                           std::size_t steps) {
  std::vector<double> share(steps, 0.0);
  for (const double s : draws.finish_s) {
    const double k = std::floor((s / kDay - from_days) / step_days);
    if (k >= 0 && k < static_cast<double>(steps))
      share[static_cast<std::size_t>(k)] += 1.0 / static_cast<double>(draws.finish_s.size());
  }
  return share;
}

std::vector<Vec2> outline_of(const Chart& chart, const std::vector<double>& share, double step) {
  std::vector<Vec2> line{chart(chart.x_low, 0)};
  for (std::size_t k = 0; k < share.size(); ++k) {
    const double x = chart.x_low + step * static_cast<double>(k);
    line.push_back(chart(x, 100 * share[k]));
    line.push_back(chart(x + step, 100 * share[k]));
  }
  line.push_back(chart(chart.x_high, 0));
  return line;
}

void add_dates(Sheet& sheet, const Chart& chart, const std::string& start) {
  const double mm_per_day = chart.size.x() / (chart.x_high - chart.x_low);
  const double every = 7 * std::max(1.0, std::ceil(18 / (7 * mm_per_day)));
  for (double day = std::ceil(chart.x_low / 7) * 7; day <= chart.x_high; day += every) {
    const Vec2 p = chart(day, 0);
    sheet.line(p, p + Vec2(0, 1), {std::nullopt, kBlack, 0.2});
    sheet.words(p + Vec2(0, 3.8), date_after(start, day * kDay), 2.1, Anchor::kMiddle);
    sheet.words(p + Vec2(0, 6.4), "day " + fixed(day + 1, 0), 1.7, Anchor::kMiddle);
  }
}

}  // namespace

RoundAxis round_axis(double most, int steps_at_most) {
  if (!(most > 0)) return {1, 1, 0};
  const double least = most / steps_at_most, power = std::pow(10, std::floor(std::log10(least)));
  double step = power;
  for (const double of : {2.0, 5.0, 10.0}) {
    if (step < least * (1 - 1e-12)) step = of * power;
  }
  return {step, step * std::ceil(most / step - 1e-9),
          std::max(0, -static_cast<int>(std::floor(std::log10(step) + 1e-9)))};
}

void add_y_axis(Sheet& sheet, const Chart& chart, const RoundAxis& axis, const std::string& words) {
  for (int k = 0; k * axis.step <= chart.y_high * (1 + 1e-9); ++k) {
    const double value = k * axis.step;
    sheet.line(chart(chart.x_low, value), chart(chart.x_high, value),
               {std::nullopt, k > 0 ? Colour{215, 215, 215} : kBlack, k > 0 ? 0.12 : 0.25});
    sheet.words(chart(chart.x_low, value) + Vec2(-1.2, 0.8), fixed(value, axis.decimals), 2.1,
                Anchor::kEnd);
  }
  sheet.words(chart.at + Vec2(-6, -2.5), words, 2.3);
}

Sheet spares_sheet(const Spares& spares, double late_risk, double width_mm) {
  constexpr double kTop = kKeyTop + 4 * kKeyStep + 4, kHigh = 50, kLeft = 10, kGap = 18;
  Sheet sheet{width_mm, kTop + kHigh + 14, "Blocks to make twice", {}};
  add_head(sheet, "The same draws for every choice. A spare is on site when its block breaks.");
  const double wide = (width_mm - 2 * kMargin - kLeft - kGap) / 2;
  const int most = spares.trials.empty() ? 1 : std::max(1, spares.trials.back().spares);
  const Chart left{{kMargin + kLeft, kTop}, {wide, kHigh}, 0, static_cast<double>(most), 1};
  Chart right = left;
  right.at.x() += wide + kGap;
  add_delays(sheet, left, spares);
  add_lateness(sheet, right, spares, late_risk);
  return sheet;
}

Sheet finish_sheet(const Spares& spares, double width_mm) {
  constexpr double kTop = kKeyTop + 2 * kKeyStep + 4, kHigh = 55, kLeft = 10;
  Sheet sheet{width_mm, kTop + kHigh + 13, "When the works are done", {}};
  add_head(sheet, "Share of " + std::to_string(spares.with.finish_s.size()) + " draws.");
  const Draws &with = spares.with, &without = spares.without;
  const double low = std::floor(std::min(with.at(0), without.at(0)) / kDay);
  const double high = std::max(with.at(0.999), without.at(0.999)) / kDay;
  const double step = std::max(1.0, std::ceil((high - low) / 70));
  const auto steps = static_cast<std::size_t>(std::max(1.0, std::ceil((high - low) / step)));
  const std::vector<double> filled = shares(with, low, step, steps),
                            lined = shares(without, low, step, steps);
  const RoundAxis axis = round_axis(
      100 * std::max(*std::ranges::max_element(filled), *std::ranges::max_element(lined)), 5);
  const Chart chart{{kMargin + kLeft, kTop},
                    {width_mm - 2 * kMargin - kLeft, kHigh},
                    low,
                    low + step * static_cast<double>(steps),
                    axis.top};
  add_y_axis(sheet, chart, axis,
             step > 1 ? "% of draws in " + fixed(step, 0) + " days" : "% of draws a day");
  Pen area{Colour{150, 190, 225}, kOurs, 0.25};
  area.opacity = 0.8;
  const Pen edge{std::nullopt, kByMass, 0.45};
  sheet.path(outline_of(chart, filled, step), true, area);
  sheet.path(outline_of(chart, lined, step), false, edge);
  add_dates(sheet, chart, spares.network.start);
  const Vec2 key(chart.at.x(), kKeyTop);
  const auto words = [&](const Draws& d) {
    return "mean " + done_date(spares.network, d.mean_s) + ", nine in ten by " +
           done_date(spares.network, d.at(0.9));
  };
  add_key(sheet, key,
          "with " + counted(static_cast<std::size_t>(spares.chosen), "spare") + ": " + words(with),
          {std::nullopt, kOurs, 1.6});
  add_key(sheet, key + Vec2(0, kKeyStep), "without: " + words(without), edge);
  return sheet;
}

}  // namespace skewback::deliver
