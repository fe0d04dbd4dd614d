#include <algorithm>
#include <cmath>

#include "survey/tolerance_parts.hpp"

namespace skewback {
namespace {

constexpr double kScaleLeast = 1.0 / 1024, kScaleMost = 64;  // looked at for the budget
constexpr int kHalvings = 9;  // of the bracket's ratio of 2: the budget to 0.14 %

struct Trial {
  const Brief& brief;
  const StackModel& model;
  int draws;
  const Progress& progress;
  [[nodiscard]] BareDraws operator()(const std::vector<double>& scale, double from,
                                     double to) const {
    return bare_draws(brief, model, draws, scale, progress, from, to);
  }
};

std::vector<double> all(double scale) { return std::vector<double>(error_names().size(), scale); }

/// Largest scale found that leaves the chance: doubled or halved until the share crosses it, then
/// by halves of the ratio. The share falls as the scale grows, but for the last of the draws.
double budget_scale(const Trial& trial, int hits_at_1, double chance, double from, double to) {
  double at = from;
  const auto holds = [&](double scale) {
    const double before = at;
    at += (to - at) / 8;  // how many it takes is not known
    return trial(all(scale), before, at).hits >= chance * trial.draws;
  };
  double low = 1, high = 1;
  if (hits_at_1 >= chance * trial.draws) {
    do {
      low = high;
      high *= 2;
      if (low >= kScaleMost) return low;
    } while (holds(high));
  } else {
    do {
      high = low;
      low /= 2;
      if (low < kScaleLeast) return 0;
    } while (!holds(low));
  }
  for (int i = 0; i < kHalvings; ++i) {
    const double middle = std::sqrt(low * high);
    (holds(middle) ? low : high) = middle;
  }
  return low;
}

/// What is gained counts first by the chance, then by how far the key is off because of it alone.
bool worth_more(const TightenedTrade& a, const TightenedTrade& b) {
  if (a.halved.share != b.halved.share) return a.halved.share > b.halved.share;
  if (a.gone.share != b.gone.share) return a.gone.share > b.gone.share;
  return a.alone_m > b.alone_m;
}

void add_words(const Brief& brief, ToleranceReport& report) {
  report.remarks.push_back("halved, gone and budgets are from the first " +
                           std::to_string(report.trade_draws) +
                           " draws, with the same errors in each comparison");
  if (report.budget_scale == 0)
    report.remarks.push_back("even 1/1024 of all figures does not leave the chance asked for");
  if (report.budget_scale >= kScaleMost)
    report.remarks.push_back("64 times all figures still leave the chance asked for");
  if (brief.tolerances.centring_m > 0)
    report.remarks.push_back(
        "the centring is not at hand here: its error is one number for each course of an arm");
}

}  // namespace

void judge_trades(const Brief& brief, const StackModel& model, int draws, const Progress& progress,
                  double from, double to, ToleranceReport& report) {
  const Trial trial{brief, model, draws, progress};
  const std::vector<std::string>& names = error_names();
  const std::vector<double> figures = error_figures(brief.tolerances);
  const double budget_from = from + 0.7 * (to - from);
  const double step = (budget_from - from) / (3.0 * static_cast<double>(names.size()) + 1);
  double at = from;
  const auto tried = [&](const std::vector<double>& scale) {
    at += step;
    return trial(scale, at - step, at);
  };
  const BareDraws now = tried(all(1));
  report.trade_draws = draws;
  report.on_trade_draws = chance_of(now.hits, draws);
  for (std::size_t e = 0; e < names.size(); ++e) {
    std::vector<double> halved = all(1), gone = all(1), alone = all(0);
    halved[e] = 0.5;
    gone[e] = 0;
    alone[e] = 1;
    TightenedTrade trade;
    trade.error = names[e];
    trade.now = figures[e];
    trade.halved = chance_of(tried(halved).hits, draws);
    trade.gone = chance_of(tried(gone).hits, draws);
    trade.alone_m = tried(alone).misfit_rms_m;
    report.trades.push_back(std::move(trade));
  }
  report.budget_scale = budget_scale(trial, now.hits, brief.tolerances.chance, budget_from, to);
  for (TightenedTrade& trade : report.trades) trade.budget = trade.now * report.budget_scale;
  std::ranges::stable_sort(report.trades, worth_more);
  add_words(brief, report);
}

}  // namespace skewback
