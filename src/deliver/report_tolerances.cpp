#include "deliver/report_tolerances.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

#include "base/constants.hpp"
#include "deliver/csv.hpp"
#include "deliver/text.hpp"
#include "deliver/tolerance_sheets.hpp"

namespace skewback::deliver {
namespace {

using Json = nlohmann::ordered_json;

std::string mm(double metre) { return fixed(1000 * metre, 2); }

/// "81.3 % (standard error 0.4 %)"; where none or all of the draws: what that bounds.
std::string chance_words(const Chance& chance, int draws) {
  if (chance.share <= 0)
    return "none of " + std::to_string(draws) + " draws (95 % sure: under " +
           figures(300.0 / draws, 2) + " %)";
  if (chance.share >= 1)
    return "all of " + std::to_string(draws) + " draws (95 % sure: over " +
           fixed(100 - 300.0 / draws, 2) + " %)";
  return fixed(100 * chance.share, 1) + " % (standard error " + figures(100 * chance.error, 2) +
         " %)";
}

std::string pair_cell(double a, double b, int decimals) {
  return fixed(a, decimals) + " / " + fixed(b, decimals);
}

std::string budget_cell(const TightenedTrade& trade, double scale) {
  constexpr double kNoTrade = 0.05;  // no trade works to a twentieth of its error
  if (scale > 0 && scale < kNoTrade) return "out of reach";
  return scale > 0 ? figure_words(trade.error, scale * trade.now) : "none found";
}

void add_chances(Pages& pages, const ToleranceReport& report) {
  std::vector<Row> rows;
  rows.push_back(
      {{"the key goes in by itself", chance_words(report.key_by_itself, report.draws)}, {}});
  rows.push_back({{"with packers of the stock", chance_words(report.goes_in, report.draws)}, {}});
  if (report.proved > 0)
    rows.push_back({{"packed, it stands with its live load factor",
                     chance_words(report.stands, report.proved)},
                    {}});
  pages.table({{"chance that", 2}, {"share of draws", 3}}, rows);
}

std::string scale_words(double scale, const std::string& asked, const std::string& packers) {
  if (scale > 0)
    return "All figures times " + figures(scale, 3) + " leave the key a chance of " + asked +
           " to go in " + packers + ".";
  return "No common scale of all figures was found that leaves the key a chance of " + asked +
         " to go in " + packers + ".";
}

/// A column of the table of trades; left out where every cell of it is nothing.
struct TradeColumn {
  Column head;
  bool shown = true;
  std::function<std::string(const TightenedTrade&)> cell;
};

std::vector<TradeColumn> trade_columns(const ToleranceReport& report) {
  const auto any = [&](auto value) { return std::ranges::any_of(report.trades, value); };
  const bool chances = report.on_trade_draws.share > 0 || any([](const TightenedTrade& t) {
                         return t.halved.share > 0 || t.gone.share > 0;
                       });
  const bool packers = report.packers_mean_m > 0 || any([](const TightenedTrade& t) {
                         return t.packers_halved_m > 0 || t.packers_gone_m > 0;
                       });
  using Trade = TightenedTrade;
  return {{{"error", 1.5}, true, [](const Trade& t) { return trade_words(t.error); }},
          {{"now", 1.2, true}, true, [](const Trade& t) { return figure_words(t.error, t.now); }},
          {{"gap / step by it alone (mm)", 1.2, true},
           true,
           [](const Trade& t) { return pair_cell(1000 * t.alone_m, 1000 * t.step_alone_m, 2); }},
          {{"chance halved / gone (%)", 1.2, true},
           chances,
           [](const Trade& t) { return pair_cell(100 * t.halved.share, 100 * t.gone.share, 1); }},
          {{"packers halved / gone (mm)", 1.2, true},
           packers,
           [](const Trade& t) {
             return pair_cell(1000 * t.packers_halved_m, 1000 * t.packers_gone_m, 2);
           }},
          {{"budget without packers", 1.2, true},
           report.budget_scale > 0,
           [&report](const Trade& t) { return budget_cell(t, report.budget_scale); }},
          {{"budget with packers", 1.2, true},
           report.budget_scale_packed > 0,
           [&report](const Trade& t) { return budget_cell(t, report.budget_scale_packed); }}};
}

/// What the columns left out would have said.
std::string left_out_words(const ToleranceReport& report) {
  std::string text;
  for (const TradeColumn& column : trade_columns(report)) {
    if (column.shown) continue;
    if (column.head.head.starts_with("chance"))
      text +=
          " In no draw does the key go in without packers, with any one error halved or gone "
          "either: no column for it.";
    if (column.head.head.starts_with("packers")) text += " No draw takes packers.";
  }
  return text;
}

void add_budget(Pages& pages, const Brief& brief, const ToleranceReport& report) {
  std::vector<TradeColumn> shown = trade_columns(report);
  std::erase_if(shown, [](const TradeColumn& column) { return !column.shown; });
  std::vector<Row> rows;
  for (const TightenedTrade& t : report.trades) {
    Row row;
    for (const TradeColumn& column : shown) row.cells.push_back(column.cell(t));
    rows.push_back(row);
  }
  std::vector<Column> heads;
  for (const TradeColumn& column : shown) heads.push_back(column.head);
  pages.keep(105);
  pages.subheading("What tightening each trade brings, and its budget");
  pages.table(heads, rows);
  const std::string asked = fixed(100 * brief.tolerances.chance, 1) + " %";
  pages.paragraph(
      "Chance: that the key goes in without packers, blocks laid flush one on the other; now " +
      chance_words(report.on_trade_draws, report.trade_draws) +
      ". Packers: thickness at all packed joints together, mean of " +
      std::to_string(report.packed_draws) + " draws; now " + mm(report.packers_mean_m) +
      " mm. By it alone: root mean square of the worst gap and of the worst step at the key and "
      "the ring round it when all other trades are exact." +
      left_out_words(report));
  pages.paragraph(
      scale_words(report.budget_scale, asked, "without packers") + " " +
      scale_words(report.budget_scale_packed, asked, "where blocks are set anew and packed"));
  pages.paragraph(
      "A budget says what the key would bear, no more: one finer than a trade can hold is to be "
      "met "
      "with packers, one wider than required.footing_tolerance (" +
      mm(brief.required.footing_tolerance_m) + " mm) does not widen what footings are proved for.");
}

Json chance_json(const Chance& chance) {
  return {{"share", chance.share}, {"error", chance.error}};
}

std::string unit_of(const std::string& error) {
  if (error == "pad") return "share";
  return error == "footing_turn" || error == "footing_tilt" || error == "bed_tilt" ? "degrees"
                                                                                   : "mm";
}
double in_unit(const std::string& error, double figure) {
  const std::string unit = unit_of(error);
  return unit == "mm" ? 1000 * figure : (unit == "degrees" ? figure * 180 / kPi : figure);
}

std::string draws_csv(const ToleranceReport& report) {
  std::vector<std::string> factor(report.key_gap_m.size());
  for (std::size_t i = 0; i < report.load_factor.size(); ++i)
    factor[static_cast<std::size_t>(report.load_factor_of[i])] = fixed(report.load_factor[i], 4);
  std::string out = csv_line({"draw", "key_gap_mm", "packers_mm", "thickest_mm", "load_factor"});
  for (std::size_t i = 0; i < report.key_gap_m.size(); ++i) {
    out += csv_line({std::to_string(i), fixed(1000 * report.key_gap_m[i], 3),
                     fixed(1000 * report.packers_m[i], 3), fixed(1000 * report.thickest_m[i], 3),
                     factor[i]});
  }
  return out;
}

std::string trades_csv(const ToleranceReport& report) {
  std::string out =
      csv_line({"error", "unit", "now", "budget", "budget_packed", "gap_alone_mm", "step_alone_mm",
                "chance_halved", "chance_gone", "packers_halved_mm", "packers_gone_mm"});
  for (const TightenedTrade& t : report.trades) {
    const auto budget = [&](double scale) {
      return scale > 0 ? fixed(in_unit(t.error, scale * t.now), 4) : "";
    };
    out += csv_line({t.error, unit_of(t.error), fixed(in_unit(t.error, t.now), 4),
                     budget(report.budget_scale), budget(report.budget_scale_packed),
                     fixed(1000 * t.alone_m, 4), fixed(1000 * t.step_alone_m, 4),
                     fixed(t.halved.share, 5), fixed(t.gone.share, 5),
                     fixed(1000 * t.packers_halved_m, 4), fixed(1000 * t.packers_gone_m, 4)});
  }
  return out;
}

constexpr double kSvgWidth = 180;

}  // namespace

void add_tolerances(Pages& pages, const Brief& brief, const ToleranceReport& report) {
  pages.new_page();
  pages.heading("Tolerances beforehand");
  pages.paragraph(
      "Before anything is built: footings, blocks, pads and centring drawn at random within the "
      "tolerances of the brief, " +
      std::to_string(report.draws) +
      " times. A figure is two standard deviations of a normal error, or the half-width of an even "
      "one. Each time the blocks are laid one on the other from the springings as they are, "
      "without and with packers.");
  add_chances(pages, report);
  if (report.draws == 0) return;
  pages.figure(tolerance_draws_sheet(brief, report, pages.width_mm()), "");
  if (!report.trades.empty()) {
    add_budget(pages, brief, report);
    pages.figure(trades_sheet(report, pages.width_mm()), "");
  }
  pages.subheading("What this rests on");
  for (const std::string& remark : report.remarks) pages.bullet(remark);
  pages.bullet(
      "Errors are drawn without regard to each other. A mould or a template that is wrong makes "
      "all its blocks wrong alike, which adds up faster.");
  pages.bullet("The tolerances are those of the brief. Ask those who will do the work.");
}

nlohmann::ordered_json tolerances_json(const Brief& brief, const ToleranceReport& report) {
  Json json{{"draws", report.draws},
            {"seed", brief.tolerances.seed},
            {"key_by_itself", chance_json(report.key_by_itself)},
            {"goes_in", chance_json(report.goes_in)},
            {"proved", report.proved}};
  json["stands"] = report.proved > 0 ? chance_json(report.stands) : Json(nullptr);
  json["chance_asked"] = brief.tolerances.chance;
  json["budget_scale"] = report.budget_scale > 0 ? Json(report.budget_scale) : Json(nullptr);
  json["budget_scale_packed"] =
      report.budget_scale_packed > 0 ? Json(report.budget_scale_packed) : Json(nullptr);
  json["packed_draws"] = report.packed_draws;
  json["packers_mean_m"] = report.packers_mean_m;
  json["trade_draws"] = report.trade_draws;
  json["trades"] = Json::array();
  for (const TightenedTrade& t : report.trades) {
    json["trades"].push_back(
        {{"error", t.error},
         {"unit", unit_of(t.error)},
         {"now", in_unit(t.error, t.now)},
         {"halved", chance_json(t.halved)},
         {"gone", chance_json(t.gone)},
         {"gap_alone_m", t.alone_m},
         {"step_alone_m", t.step_alone_m},
         {"packers_halved_m", t.packers_halved_m},
         {"packers_gone_m", t.packers_gone_m},
         {"budget", report.budget_scale > 0 ? Json(in_unit(t.error, t.budget)) : Json(nullptr)}});
  }
  json["remarks"] = report.remarks;
  return json;
}

std::vector<OutputFile> tolerance_files(const Brief& brief, const ToleranceReport& report) {
  return {{"tolerances/draws.csv", draws_csv(report)},
          {"tolerances/trades.csv", trades_csv(report)},
          {"tolerances/draws.svg", svg(tolerance_draws_sheet(brief, report, kSvgWidth))},
          {"tolerances/trades.svg", svg(trades_sheet(report, kSvgWidth))}};
}

}  // namespace skewback::deliver
