#include "deliver/report_tolerances.hpp"

#include <algorithm>
#include <cmath>

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

std::string share_cell(const Chance& chance) {
  return fixed(100 * chance.share, 1) + " +/- " + fixed(100 * chance.error, 1);
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

void add_budget(Pages& pages, const Brief& brief, const ToleranceReport& report) {
  std::vector<Row> rows;
  for (const TightenedTrade& t : report.trades) {
    rows.push_back({{trade_words(t.error), figure_words(t.error, t.now), mm(t.alone_m),
                     share_cell(t.halved), share_cell(t.gone),
                     report.budget_scale > 0 ? figure_words(t.error, t.budget) : "none found"},
                    {}});
  }
  pages.keep(50);
  pages.subheading("What tightening each trade brings, and its budget");
  pages.table({{"error", 1.6},
               {"now", 1.1, true},
               {"gap by it alone (mm)", 1.1, true},
               {"chance, halved (%)", 1.2, true},
               {"chance, gone (%)", 1.2, true},
               {"budget", 1.2, true}},
              rows);
  const std::string asked = fixed(100 * brief.tolerances.chance, 1) + " %";
  pages.paragraph(
      "Chance: that the key goes in without packers; it is " +
      chance_words(report.on_trade_draws, report.trade_draws) +
      " now, on the draws used here. Gap by it alone: root mean square of the worst gap at the "
      "key when all other trades are exact. " +
      (report.budget_scale > 0
           ? "Budget: all figures times " + figures(report.budget_scale, 3) +
                 " leave the key a chance of " + asked + " to go in without packers."
           : "No common scale of all figures was found that leaves the key a chance of " + asked +
                 " to go in without packers."));
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
      csv_line({"error", "unit", "now", "budget", "gap_alone_mm", "chance_halved", "chance_gone"});
  for (const TightenedTrade& t : report.trades) {
    out += csv_line({t.error, unit_of(t.error), fixed(in_unit(t.error, t.now), 4),
                     report.budget_scale > 0 ? fixed(in_unit(t.error, t.budget), 4) : "",
                     fixed(1000 * t.alone_m, 4), fixed(t.halved.share, 5), fixed(t.gone.share, 5)});
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
