#include <algorithm>
#include <cmath>
#include <map>

#include "deliver/plot_frame.hpp"
#include "deliver/text.hpp"
#include "deliver/vary_plots.hpp"

namespace skewback::deliver {
namespace {

constexpr double kWidth = 297, kHead = 20, kPanelHigh = 62, kMargin = 8;
constexpr double kLeft = 13, kFootRoom = 12, kTopRoom = 7;  // of a panel, for its words
constexpr int kAcross = 3;
constexpr Colour kBar{86, 180, 233}, kBarLine{0, 114, 178};

Sheet grid_sheet(std::size_t panels, const std::string& title) {
  Sheet sheet;
  sheet.width_mm = kWidth;
  const auto rows = static_cast<double>((panels + kAcross - 1) / kAcross);
  sheet.height_mm = kHead + rows * kPanelHigh + kMargin;
  sheet.title = title;
  Words words{{kMargin, 10}, title, 4.2};
  words.bold = true;
  sheet.items.emplace_back(words);
  return sheet;
}

PlotFrame panel_at(std::size_t index) {
  const double wide = (kWidth - 2 * kMargin) / kAcross;
  const auto column = static_cast<double>(index % kAcross),
             row = static_cast<double>(index / kAcross);
  PlotFrame frame;
  frame.foot = {kMargin + column * wide + kLeft, kHead + (row + 1) * kPanelHigh - kFootRoom};
  frame.size = {wide - kLeft - 6, kPanelHigh - kFootRoom - kTopRoom};
  return frame;
}

std::vector<double> numbers(const VaryColumn& column) {
  std::vector<double> out;
  for (const auto& v : column.values)
    if (v) out.push_back(*v);
  return out;
}

std::string axis_name(const VaryColumn& column, const Axis& axis) {
  return axis.named(column.name, column.unit);
}

Axis axis_for(const VaryColumn& column, int marks) {
  if (!column.labels.empty()) return axis_of_labels(column.labels);
  const std::vector<double> all = numbers(column);
  const auto [low, high] = std::minmax_element(all.begin(), all.end());
  return axis_over(*low, *high, marks);
}

struct Bin {
  double low = 0, high = 0;
  int runs = 0, fails = 0;
};

std::vector<Bin> bins_of(const VaryColumn& column, const std::vector<bool>& fails) {
  std::vector<Bin> bins;
  if (!column.labels.empty()) {
    for (std::size_t i = 0; i < column.labels.size(); ++i)
      bins.push_back({static_cast<double>(i) - 0.35, static_cast<double>(i) + 0.35});
  } else {
    const std::vector<double> edges = histogram_edges(numbers(column));
    for (std::size_t i = 0; i + 1 < edges.size(); ++i) bins.push_back({edges[i], edges[i + 1]});
  }
  for (std::size_t r = 0; r < column.values.size(); ++r) {
    if (!column.values[r]) continue;
    const double v = *column.values[r];
    const auto after =
        std::find_if(bins.begin(), bins.end(), [&](const Bin& b) { return v < b.high; });
    Bin& bin = after == bins.end() ? bins.back() : *after;
    ++bin.runs;
    if (fails[r]) ++bin.fails;
  }
  return bins;
}

void add_bars(Sheet& sheet, const PlotFrame& frame, const std::vector<Bin>& bins) {
  const auto box = [&](const Bin& b, int from, int to, const Pen& pen) {
    if (to <= from) return;
    const double low = from, high = to;
    sheet.path({frame(b.low, low), frame(b.high, low), frame(b.high, high), frame(b.low, high)},
               true, pen);
  };
  for (const Bin& b : bins) {
    box(b, 0, b.runs - b.fails, {kBar, kBarLine, 0.15});
    box(b, b.runs - b.fails, b.runs, {Colour{255, 255, 255}, kThrust, 0.25});
  }
}

// Where numbers lie: least, median, greatest.
std::string spread_words(const VaryColumn& column) {
  std::vector<double> all = numbers(column);
  if (!column.labels.empty() || all.empty()) return "";
  std::sort(all.begin(), all.end());
  const double median = (all[(all.size() - 1) / 2] + all[all.size() / 2]) / 2;
  return figures(all.front(), 3) + " to " + figures(all.back(), 3) + ", median " +
         figures(median, 3);
}

std::string legend(const VaryTable& table) {
  const auto n = std::count(table.fails.begin(), table.fails.end(), true);
  const std::string all = std::to_string(table.fails.size()) + " " + table.what;
  if (n == 0) return all;
  return all + "; white with a red edge: a required check fails (" + std::to_string(n) + ")";
}

/// A number that is the same in all runs has no histogram: it is said.
bool constant(const VaryColumn& column) {
  const std::vector<double> all = numbers(column);
  return column.labels.empty() && !all.empty() &&
         std::ranges::all_of(all, [&](double v) { return v == all.front(); });
}

void add_constant(Sheet& sheet, std::size_t place, const VaryColumn& column,
                  const VaryTable& table) {
  const PlotFrame frame = panel_at(place);
  const std::vector<double> all = numbers(column);
  const Vec2 at = frame.foot - Vec2(0, frame.size.y() - 4);
  sheet.words(at, column.name + (column.unit.empty() ? "" : " (" + column.unit + ")"), 2.6);
  Words value{at + Vec2(0, 8), figures(all.front(), 4), 4.2};
  value.bold = true;
  sheet.items.emplace_back(value);
  sheet.words(at + Vec2(0, 14), "the same in all " + std::to_string(all.size()) + " " + table.what,
              2.4);
}

}  // namespace

std::vector<double> histogram_edges(const std::vector<double>& values) {
  std::vector<double> all = values;
  std::sort(all.begin(), all.end());
  if (all.empty()) return {};
  const double low = all.front(), high = all.back();
  if (!(high > low)) {
    const double half = low == 0 ? 0.5 : 0.05 * std::abs(low);
    return {low - half, low + half};
  }
  const auto quantile = [&](double q) {
    const double at = q * static_cast<double>(all.size() - 1);
    const auto i = static_cast<std::size_t>(at);
    const double next = all[std::min(i + 1, all.size() - 1)];
    return all[i] + (next - all[i]) * (at - std::floor(at));
  };
  const double range = high - low;
  double width = 2 * (quantile(0.75) - quantile(0.25)) / std::cbrt(static_cast<double>(all.size()));
  width = std::clamp(width, range / 30, range);
  const double step = axis_over(0, width, 1).step;
  std::vector<double> edges;
  const double first = step * std::floor(low / step);
  for (int i = 0; i <= 40; ++i) {
    edges.push_back(first + i * step);
    if (edges.back() >= high && i > 0) break;
  }
  return edges;
}

Sheet histogram_sheet(const VaryTable& table) {
  Sheet sheet = grid_sheet(table.figures.size(), table.title + ": what " + table.what + " found");
  sheet.words({kMargin, 15.5}, legend(table), 2.8);
  for (std::size_t k = 0; k < table.figures.size(); ++k) {
    const VaryColumn& column = table.figures[k];
    if (constant(column)) {
      add_constant(sheet, k, column, table);
      continue;
    }
    const std::vector<Bin> bins = bins_of(column, table.fails);
    if (bins.empty()) continue;
    int most = 1;
    for (const Bin& b : bins) most = std::max(most, b.runs);
    PlotFrame frame = panel_at(k);
    frame.x = column.labels.empty() ? axis_over(bins.front().low, bins.back().high, 4)
                                    : axis_of_labels(column.labels);
    frame.y = axis_over(0, most, 4);
    if (frame.y.step < 1) frame.y = axis_over(0, std::max(most, 2), 2);
    add_frame(sheet, frame, axis_name(column, frame.x), table.what);
    add_bars(sheet, frame, bins);
    sheet.words({frame.foot.x() + frame.size.x(), frame.foot.y() - frame.size.y() - 2.2},
                spread_words(column), 2.2, Anchor::kEnd);
  }
  return sheet;
}

Sheet scatter_sheet(const VaryTable& table) {
  const VaryColumn& main = table.figures[static_cast<std::size_t>(table.main)];
  Sheet sheet =
      grid_sheet(table.varied.size(), table.title + ": " + main.name + " against what was varied");
  sheet.words({kMargin, 15.5}, legend(table), 2.8);
  for (std::size_t k = 0; k < table.varied.size(); ++k) {
    const VaryColumn& column = table.varied[k];
    if (numbers(column).empty()) continue;
    PlotFrame frame = panel_at(k);
    frame.x = axis_for(column, 4);
    frame.y = axis_for(main, 5);
    add_frame(sheet, frame, axis_name(column, frame.x), axis_name(main, frame.y));
    for (std::size_t r = 0; r < column.values.size(); ++r) {
      if (!column.values[r] || !main.values[r]) continue;
      const Pen pen =
          table.fails[r] ? Pen{Colour{255, 255, 255}, kThrust, 0.3} : Pen{kBar, kBarLine, 0.2};
      sheet.dot(frame(*column.values[r], *main.values[r]), 0.9, pen);
    }
  }
  return sheet;
}

}  // namespace skewback::deliver
