#include <algorithm>
#include <atomic>
#include <cmath>
#include <functional>

#include "survey/feet.hpp"
#include "survey/tolerance_parts.hpp"

namespace skewback {
namespace {

constexpr double kScaleLeast = 1.0 / 1024, kScaleMost = 64;  // looked at for a budget
constexpr double kKeptMost = 3e7;                            // numbers of draws kept: 240 MB
constexpr int kPackedDraws = 200;   // packing takes longer than stacking by far
constexpr int kBareHalvings = 9;    // of the bracket's ratio of 2: the scale to 0.14 %
constexpr int kPackedHalvings = 5;  // 2.2 %

struct Tried {
  int hits = 0;  // keys in
  double gap_rms_m = 0, step_rms_m = 0, packers_mean_m = 0;
};

/// The first draws again with other scales; the same numbers each time.
struct Trial {
  const Brief& brief;
  const StackModel& model;
  const Progress& progress;
  double at, to;  // progress still to use up: how many trials it takes is not known beforehand
  std::vector<DrawNumbers> kept = {};

  void keep(int draws) {  // each draw is tried by one thread at a time
    constexpr double kOfAJoint = 30;
    if (kOfAJoint * static_cast<double>(model.assembly().joints.size()) * draws < kKeptMost)
      kept.resize(static_cast<std::size_t>(draws));
  }
  [[nodiscard]] AsMade made(std::size_t i, const std::vector<double>& scale) {
    return errors_of(brief, model.assembly(), i, scale, kept.empty() ? nullptr : &kept[i]);
  }
  [[nodiscard]] bool goes_in_bare(std::size_t i, const std::vector<double>& scale) {
    return stack_up(model, made(i, scale), brief.packing).key_goes_in;
  }
  [[nodiscard]] bool goes_in_packed(std::size_t i, const std::vector<double>& scale) {
    return pack_up(model, made(i, scale), brief.packing, {.springers = false}).goes_in;
  }
  /// At least `share` of the draws are good; as soon as that is known.
  template <class Good>
  [[nodiscard]] bool are_good(int draws, double share, Good good) {
    const int needed = static_cast<int>(std::ceil(share * draws));
    std::atomic<int> hits = 0, misses = 0;
    each(draws, [&](std::size_t i) {
      if (hits < needed && misses <= draws - needed) ++(good(i) ? hits : misses);
    });
    return hits >= needed;
  }

  [[nodiscard]] Tried bare(int draws, const std::vector<double>& scale) {
    const std::vector<int> joints = key_joints(model.assembly(), model.order());
    std::vector<char> in(static_cast<std::size_t>(draws), 0);
    std::vector<KeyLie> keys(in.size());
    each(draws, [&](std::size_t i) {
      const Stack stack = stack_up(model, made(i, scale), brief.packing);
      in[i] = stack.key_goes_in ? 1 : 0;
      keys[i] = key_lie(stack.joints, joints);
    });
    Tried out;
    double gaps = 0, steps = 0;
    for (std::size_t i = 0; i < in.size(); ++i) {
      out.hits += in[i];
      gaps += keys[i].worst_gap_m() * keys[i].worst_gap_m();
      steps += keys[i].step_m * keys[i].step_m;
    }
    out.gap_rms_m = std::sqrt(gaps / draws);
    out.step_rms_m = std::sqrt(steps / draws);
    return out;
  }

  [[nodiscard]] Tried packed(int draws, const std::vector<double>& scale) {
    std::vector<char> in(static_cast<std::size_t>(draws), 0);
    std::vector<double> packers(in.size(), 0.0);
    each(draws, [&](std::size_t i) {
      const Packed found = pack_up(model, made(i, scale), brief.packing, {.springers = false});
      in[i] = found.goes_in ? 1 : 0;
      packers[i] = found.packers_m;
    });
    Tried out;
    for (std::size_t i = 0; i < in.size(); ++i) {
      out.hits += in[i];
      out.packers_mean_m += packers[i] / draws;
    }
    return out;
  }

 private:
  template <class Body>
  void each(int draws, Body body) {
    const double before = at;
    at += (to - at) / 32;
    for_each_draw(draws, progress, before, at, body);
  }
};

std::vector<double> all(double scale) { return std::vector<double>(error_names().size(), scale); }
std::vector<double> all_but(std::size_t error, double others, double this_one) {
  std::vector<double> scale = all(others);
  scale[error] = this_one;
  return scale;
}

/// Largest scale found that holds: doubled or halved until it does no longer or does, then by
/// halves of the ratio. The share of keys falls as the scale grows, but for the last of the draws.
double largest_scale(const std::function<bool(double)>& holds, bool holds_at_1, int halvings) {
  double low = 1, high = 1;
  if (holds_at_1) {
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
  for (int i = 0; i < halvings; ++i) {
    const double middle = std::sqrt(low * high);
    (holds(middle) ? low : high) = middle;
  }
  return low;
}

/// What is gained counts first by the chance without packers, then by packers saved.
bool worth_more(const TightenedTrade& a, const TightenedTrade& b) {
  if (a.halved.share != b.halved.share) return a.halved.share > b.halved.share;
  if (a.gone.share != b.gone.share) return a.gone.share > b.gone.share;
  if (a.packers_halved_m != b.packers_halved_m) return a.packers_halved_m < b.packers_halved_m;
  return a.alone_m > b.alone_m;
}

TightenedTrade tightened(Trial& trial, std::size_t error, double figure, const Tried& now,
                         const ToleranceReport& report) {
  const int draws = report.trade_draws;
  TightenedTrade trade;
  trade.error = error_names()[error];
  trade.now = figure;
  trade.halved = trade.gone = chance_of(now.hits, draws);
  trade.packers_halved_m = trade.packers_gone_m = report.packers_mean_m;
  if (figure == 0) return trade;
  trade.halved = chance_of(trial.bare(draws, all_but(error, 1, 0.5)).hits, draws);
  trade.gone = chance_of(trial.bare(draws, all_but(error, 1, 0)).hits, draws);
  const Tried alone = trial.bare(draws, all_but(error, 0, 1));
  trade.alone_m = alone.gap_rms_m;
  trade.step_alone_m = alone.step_rms_m;
  trade.packers_halved_m = trial.packed(report.packed_draws, all_but(error, 1, 0.5)).packers_mean_m;
  trade.packers_gone_m = trial.packed(report.packed_draws, all_but(error, 1, 0)).packers_mean_m;
  return trade;
}

void add_words(const Brief& brief, ToleranceReport& report) {
  report.remarks.push_back(
      "halved, gone and budgets are from the first " + std::to_string(report.trade_draws) +
      " draws, where packers count the first " + std::to_string(report.packed_draws) +
      ", with the same errors in each comparison");
  for (const auto& [scale, which] : {std::pair(report.budget_scale, "without packers"),
                                     std::pair(report.budget_scale_packed, "with packers")}) {
    if (scale == 0)
      report.remarks.push_back(std::string("even 1/1024 of all figures does not leave the chance "
                                           "asked for ") +
                               which);
    if (scale >= kScaleMost)
      report.remarks.push_back(std::string("64 times all figures still leave the chance asked "
                                           "for ") +
                               which);
  }
  if (brief.tolerances.centring_m > 0)
    report.remarks.push_back(
        "the centring is not at hand here: its error is one number for each course of an arm. It "
        "counts for the key by itself alone: with packers, each foot is set anew by its " +
        foot_device(brief) + " until its blocks lie where they are to");
}

}  // namespace

void judge_trades(const Brief& brief, const StackModel& model, int draws, const Progress& progress,
                  double from, double to, ToleranceReport& report) {
  if (draws <= 0) return;
  const double chance = brief.tolerances.chance;
  const int packed_draws = std::min(draws, kPackedDraws);
  Trial trial{brief, model, progress, from, to};
  trial.keep(draws);
  const Tried now = trial.bare(draws, all(1)), packed = trial.packed(packed_draws, all(1));
  report.trade_draws = draws;
  report.packed_draws = packed_draws;
  report.on_trade_draws = chance_of(now.hits, draws);
  report.packers_mean_m = packed.packers_mean_m;
  const std::vector<double> figures = error_figures(brief.tolerances);
  for (std::size_t e = 0; e < figures.size(); ++e)
    report.trades.push_back(tightened(trial, e, figures[e], now, report));
  report.budget_scale = largest_scale(
      [&](double scale) {
        return trial.are_good(draws, chance,
                              [&](std::size_t i) { return trial.goes_in_bare(i, all(scale)); });
      },
      now.hits >= chance * draws, kBareHalvings);
  report.budget_scale_packed = largest_scale(
      [&](double scale) {
        return trial.are_good(packed_draws, chance,
                              [&](std::size_t i) { return trial.goes_in_packed(i, all(scale)); });
      },
      packed.hits >= chance * packed_draws, kPackedHalvings);
  for (TightenedTrade& trade : report.trades) trade.budget = trade.now * report.budget_scale;
  std::ranges::stable_sort(report.trades, worth_more);
  add_words(brief, report);
}

}  // namespace skewback
