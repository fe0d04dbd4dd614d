#include <algorithm>
#include <cmath>
#include <cstdio>

#include "erect/spares_parts.hpp"

namespace skewback {
namespace {

constexpr double kWorthSaying_s = 0.1 * kDay_s;

double late_s(const SparesTrial& trial) { return trial.expected_delay_s + trial.table_s; }

std::string figure(double value, int decimals) {
  char text[64];
  std::snprintf(text, sizeof text, "%.*f", decimals, value);
  return text;
}
std::string percent(double share, int decimals = 1) { return figure(100 * share, decimals) + " %"; }

void add_assumed(const Brief& brief, const PrintSet* print, const LiftPlan* lifts,
                 const Transport* transport, Spares& spares) {
  auto& say = spares.remarks;
  if (brief.programme.week.empty() && brief.programme.holidays.empty())
    say.push_back("Every day of the calendar is worked: leave room for weekends and holidays.");
  if (print == nullptr) {
    say.push_back(
        "How the blocks are made is not known (no print step): they are taken to be there on the "
        "first day, and a new one to take no longer than its journey. True times are longer.");
  } else {
    std::string not_printable;
    for (const BlockPrint& block : print->blocks) {
      if (block.printable || block.way == PrintWay::kCast) continue;
      not_printable += (not_printable.empty() ? "" : ", ") + block.id;
    }
    if (!not_printable.empty())
      say.push_back("Taken as cast in a mould, since they cannot be printed: " + not_printable +
                    ".");
    if (std::ranges::any_of(spares.risks, [&](const BlockRisk& risk) {
          return std::ranges::find(print->blocks, risk.id, &BlockPrint::id) == print->blocks.end();
        }))
      say.push_back(
          "Printing another of a block that is there already is not planned: it is taken to "
          "last as long as its volume takes at print.flow, then it cures and travels.");
  }
  if (transport == nullptr)
    say.push_back("No loads of lorries are known: each journey brings what is placed in a day.");
  if (spares.shares_alike && lifts == nullptr && transport == nullptr)
    say.push_back(
        "Margins in lifting and on the road are not known: every block is taken to break as "
        "easily, and only time tells them apart.");
}

void add_choice(const Brief& brief, Spares& spares) {
  auto& say = spares.remarks;
  const int n = static_cast<int>(spares.risks.size());
  if (spares.trials.empty()) return;
  const SparesTrial& trial = spares.trials[static_cast<std::size_t>(spares.chosen)];
  if (brief.spares.count < 0 && spares.chosen == n && n > 0)
    say.push_back(
        "Every block is made twice: with fewer the risk of waiting for a broken one is "
        "over the " +
        percent(brief.spares.late_risk) + " of spares.late_risk.");
  if (brief.spares.count >= 0 && trial.late_share > brief.spares.late_risk)
    say.push_back("With the " + std::to_string(spares.chosen) +
                  " spares of the brief the risk of waiting for a broken block is " +
                  percent(trial.late_share) + ", over spares.late_risk, " +
                  percent(brief.spares.late_risk) + ".");
  if (!spares.shares_alike)
    say.push_back(
        "If breaking had nothing to do with margins and every block broke as easily, the "
        "same risk would ask for " +
        std::to_string(spares.needed_if_alike) + " spares.");
  if (spares.chosen > 0 && trial.table_s > 0)
    say.push_back(
        "The spares are printed on the same table, each right after the first of its kind: "
        "by mean times the whole is done " +
        figure(trial.table_s / kDay_s, 1) + " days later for it, while breakages cost " +
        figure((spares.trials[0].expected_delay_s - trial.expected_delay_s) / kDay_s, 1) +
        " days less. A second table, or an earlier start of printing, saves those days.");
  const SparesTrial& soonest = spares.trials[static_cast<std::size_t>(spares.soonest)];
  if (late_s(trial) - late_s(soonest) > kWorthSaying_s)
    say.push_back("Done soonest on average, with the table's time counted: " +
                  std::to_string(spares.soonest) + " spares, by " +
                  figure((late_s(trial) - late_s(soonest)) / kDay_s, 1) + " days (spares.count).");
  const auto cheapest = std::ranges::min_element(
      spares.trials, {}, [](const SparesTrial& t) { return t.cost.value_or(HUGE_VAL); });
  if (cheapest->cost)
    say.push_back("By cost, " + std::to_string(cheapest->spares) +
                  " spares are best; spares, expected delay and the table's time come to " +
                  figure(*cheapest->cost, 0) + " " + brief.rates.currency + "; with the chosen " +
                  std::to_string(spares.chosen) + " " + figure(trial.cost.value_or(0), 0) + ".");
  else if (brief.spares.delay_cost > 0)
    say.push_back(
        "spares.delay_cost is given, but neither rates.concrete_per_m3 nor rates.print_per_h: "
        "costs "
        "are not compared.");
}

}  // namespace

void add_spares_remarks(const Brief& brief, const PrintSet* print, const LiftPlan* lifts,
                        const Transport* transport, const BreakCount& count, Spares& spares) {
  if (count.handled > 0)
    spares.remarks.push_back(std::to_string(count.broken) + " of " + std::to_string(count.handled) +
                             " blocks handled so far broke; with the brief's figure that makes " +
                             percent(spares.broken_share, 2) + ".");
  else
    spares.remarks.push_back("That " + percent(spares.broken_share) +
                             " of blocks break is a guess until the daybook has counted.");
  add_assumed(brief, print, lifts, transport, spares);
  add_choice(brief, spares);
}

}  // namespace skewback
